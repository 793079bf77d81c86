"""How many sheets does rectpack (PyPI) need for the instances in sheets.txt? Its guillotine packers, its bin rules and
its orders, one after the other, for so many seconds of processor time an instance or until it meets the lower bound;
pieces not turned.

    python rectpack_side.py SECONDS [NAME ...]

Prints a line `name count` for each. Its layouts are not always edge-to-edge, so this flatters it if anything.
"""

import itertools
import pathlib
import sys
import time

import rectpack
from rectpack import guillotine

# The bare classes lack a rule; a full name says both how a place is chosen and how what is left is split.
PACKERS = [
    getattr(guillotine, name)
    for name in sorted(dir(guillotine))
    if name.startswith("GuillotineB") and len(name) > len("GuillotineBlsf")
]
RULES = [rectpack.PackingBin.BFF, rectpack.PackingBin.BBF, rectpack.PackingBin.Global]
ORDERS = [
    rectpack.SORT_AREA,
    rectpack.SORT_LSIDE,
    rectpack.SORT_SSIDE,
    rectpack.SORT_PERI,
    rectpack.SORT_DIFF,
    rectpack.SORT_RATIO,
    rectpack.SORT_NONE,
]


def pair(text):
    length, width = text.split("x")
    return int(length), int(width)


def sheets(sheet, pieces, at_least, seconds):
    best = None
    start = time.process_time()
    for order, rule, packer in itertools.product(ORDERS, RULES, PACKERS):
        packing = rectpack.newPacker(
            mode=rectpack.PackingMode.Offline, bin_algo=rule, pack_algo=packer, sort_algo=order, rotation=False
        )
        for piece in pieces:
            packing.add_rect(*piece)
        packing.add_bin(*sheet, count=float("inf"))
        packing.pack()
        if sum(len(one) for one in packing) == len(pieces) and (best is None or len(packing) < best):
            best = len(packing)
        if best == at_least or time.process_time() - start > seconds:
            break
    return best


def main():
    seconds, names = float(sys.argv[1]), sys.argv[2:]
    for line in (pathlib.Path(__file__).parent / "sheets.txt").read_text().splitlines():
        _, name, sheet, at_least, _, *sizes = line.split(" ")
        if names and name not in names:
            continue
        pieces = []
        for size in sizes:
            size, _, count = size.partition("*")
            pieces += [pair(size)] * int(count or 1)
        print(name, sheets(pair(sheet), pieces, int(at_least), seconds), flush=True)


if __name__ == "__main__":
    main()

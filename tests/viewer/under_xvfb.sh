#!/usr/bin/env bash
# Drives the real window with a real mouse and keyboard on a display of its own, and checks what came of it.
#
#   tests/viewer/under_xvfb.sh PROGRAM [PLAN [WIDTHxHEIGHT]]
#
# Needs Xvfb, openbox, xdotool and ImageMagick's `import`. Pictures go to a folder outside the repository, which is
# named at the end. Prints one line a check; the exit code is 0 only if all of them passed.
set -u
program=$(realpath "${1:?which program}")
here=$(cd "$(dirname "$0")/../.." && pwd)
plan_from=${2:-$here/assets/plans/glazing-corner.ron}
size=${3:-1280x800}
for tool in Xvfb openbox xdotool import; do
    command -v "$tool" >/dev/null || { echo "not run: $tool is missing (apt-get install xvfb openbox xdotool imagemagick)"; exit 77; }
done

out=$(mktemp -d "${TMPDIR:-/tmp}/elbowroom-window.XXXXXX")
plan=$out/corner.ron
log=$out/log
cp "$plan_from" "$plan"
failed=0
pids=()
# Ends only what this script began.
trap 'for pid in "${pids[@]}"; do kill "$pid" 2>/dev/null; done' EXIT

# Xvfb picks a free display itself and writes its number.
Xvfb -displayfd 3 -screen 0 "${size}x24" -nolisten tcp 3>"$out/display" 2>/dev/null &
pids+=($!)
for _ in $(seq 100); do [ -s "$out/display" ] && break; sleep 0.1; done
DISPLAY=:$(cat "$out/display")
export DISPLAY
openbox >/dev/null 2>&1 &
pids+=($!)
sleep 0.5

start() {
    RUST_LOG=error,elbowroom=info NO_COLOR=1 XDG_RUNTIME_DIR=$out XDG_STATE_HOME=$out/state "$program" "$plan" >>"$log" 2>&1 &
    window_pid=$!
    pids+=("$window_pid")
}
start

check() { # check WHAT COMMAND…
    local what=$1
    shift
    if "$@"; then echo "ok      $what"; else echo "FAILED  $what"; failed=1; fi
}
# Waits until the log has a line that matches, after the line number in $from.
from=1
waits_for() { # waits_for PATTERN [SECONDS]
    for _ in $(seq $((${2:-20} * 10))); do
        tail -n "+$from" "$log" | grep -qE "$1" && return 0
        sleep 0.1
    done
    return 1
}
# Waits until the window has had nothing to say for a while: on a slow machine it lags behind the mouse.
quiet() {
    local before='' now='' still=0
    for _ in $(seq 300); do
        now=$(wc -c <"$log")
        if [ "$now" = "$before" ]; then still=$((still + 1)); else still=0; fi
        [ "$still" -ge "${1:-15}" ] && return 0
        before=$now
        sleep 0.1
    done
}
mark() { from=$(($(wc -l <"$log") + 1)); }
picture() { import -window root "$out/$1.png"; }
last() { grep -oE "$1" "$log" | tail -1; }

check "the window draws" waits_for 'update 3 after' 60
if [ $failed = 1 ]; then head -3 "$log"; exit 1; fi
check "the fronts are told" waits_for 'front [0-9]' 30
window=$(xdotool search --onlyvisible --name Elbowroom 2>/dev/null | head -1)
check "it has a title" test -n "$window"
if [ "$size" != 1280x800 ]; then
    mark
    # Less what the window manager's title bar takes.
    xdotool windowmove "$window" 0 0 windowsize "$window" $((${size%x*} - 2)) $((${size#*x} - 36))
    quiet
    xdotool key --window "$window" f
    check "another size: the corner is framed anew" waits_for 'front [0-9]' 30
else
    xdotool windowmove "$window" 0 0
    sleep 0.5
fi
quiet
picture start

# A click on a drawer opens it; a second one shuts it.
read -r _ x y name <<<"$(grep -oE 'front [0-9]+ [0-9]+ left.*' "$log" | tail -1)"
mark
xdotool mousemove --window "$window" "$x" "$y" sleep 1 mousedown 1 sleep 0.4 mouseup 1
check "a click on \"$name\" opens it" waits_for 'open \["left'
picture open
mark
xdotool key --window "$window" Escape
check "Escape shuts it" waits_for 'open \[\]'

# A drag over the floor turns the scene and opens nothing.
read -r _ film_left film_right film_y _ <<<"$(last 'control [0-9]+ [0-9]+ [0-9]+ slider film')"
floor_x=$(((film_left + film_right) / 2)) floor_y=$((film_y - 150))
mark
xdotool mousemove --window "$window" "$floor_x" "$floor_y" sleep 0.3 mousedown 1 sleep 0.5
# The orbit follows the mouse's own motion, which only a relative move brings here.
for _ in $(seq 12); do xdotool mousemove_relative -- 8 2 sleep 0.15; done
xdotool mouseup 1
check "a drag over the floor turns the scene" waits_for 'front [0-9]' 30
quiet
check "and opens nothing" bash -c "! tail -n +$from '$log' | grep -qE 'asked for: (Toggle|Pull)'"
mark
xdotool key --window "$window" f
waits_for 'front [0-9]' 30
quiet

# A drawer dragged by hand comes out as far as the first touch, which is marked; the scene does not turn with it.
read -r _ x y name <<<"$(grep -oE 'front [0-9]+ [0-9]+ left 1.*' "$log" | tail -3 | head -1)"
mark
xdotool mousemove --window "$window" "$x" "$y" sleep 0.4 mousedown 1 sleep 0.7
for _ in $(seq 20); do xdotool mousemove_relative -- 7 10 sleep 0.1; done
check "a drag on \"$name\" takes it along" waits_for 'asked for: Pull' 30
if [ "$plan_from" = "$here/assets/plans/glazing-corner.ron" ]; then
    check "it stops at the first touch, where the report says" waits_for 'mark Touch: Touches here; pulled out by 380 mm' 30
else
    echo "        not checked: what a drawer touches in $plan_from"
fi
picture contact
xdotool mouseup 1
quiet
check "the scene does not turn with it" bash -c "! tail -n +$from '$log' | grep -q 'front [0-9]'"
mark
xdotool key --window "$window" Escape
check "Escape shuts it again" waits_for 'open \[\]'

# The slider, from end to end: the verdict must turn, and the scene follow.
drag() { # drag SIDE FROM% TO%
    local left right middle
    read -r _ left right middle _ <<<"$(last "control [0-9]+ [0-9]+ [0-9]+ slider $1")"
    local width=$((right - left))
    xdotool mousemove --window "$window" $((left + width * $2 / 100)) "$middle" sleep 0.2 mousedown 1 sleep 0.2
    for share in $(seq "$2" $((($3 > $2) ? 4 : -4)) "$3"); do
        xdotool mousemove --window "$window" $((left + width * share / 100)) "$middle" sleep 0.05
    done
    sleep 0.3
    xdotool mouseup 1
    quiet
}
mark
drag right 50 96
drag left 50 96
check "sliders to the right: all is clear" waits_for 'verdict clear'
picture wide
mark
drag left 96 4
check "a slider to the left: not clear" waits_for 'verdict not clear'
picture narrow
check "a drag on the panel leaves the scene alone" bash -c "! tail -n +$from '$log' | grep -q 'front [0-9]'"

# The film, scrubbed by hand: it holds still where the mouse left it.
mark
drag film 2 50
check "the film is scrubbed" waits_for 'film held at [0-9.]+ of'
read -r at length <<<"$(tail -n "+$from" "$log" | grep -oE 'film held at .*' | tail -1 | awk '{print $4, $6}')"
check "to its middle ($at of $length s)" awk -v at="$at" -v of="$length" 'BEGIN { exit !(at > 0.45 * of && at < 0.55 * of) }'
picture scrubbed
mark
xdotool key --window "$window" Escape
check "Escape ends it" waits_for 'asked for: Leave'
quiet

# The film comes to the touch and marks it.
mark
xdotool key --window "$window" space
check "the film runs" waits_for 'open \["' 30
sleep 1.2
picture film
xdotool key --window "$window" Escape
waits_for 'open \[\]' 20

chord() { # chord KEY, with Ctrl held as a hand holds it
    xdotool keydown --window "$window" ctrl sleep 0.6 key --window "$window" "$1" sleep 0.6 keyup --window "$window" ctrl
}

# The sliders have changed the plan's text; a save puts it on disk with every comment where it was.
mark
chord s
check "Ctrl S saves" waits_for 'asked for: Save'
quiet
comments() { grep -c '//' "$1"; }
check "the comments are still there" test "$(comments "$plan")" = "$(comments "$plan_from")"
check "only the fillers differ" test "$(diff "$plan_from" "$plan" | grep -c '^>')" -le 2
cp "$plan" "$out/saved.ron"

# A wall's length typed in the plan's section, taken back, and typed again.
click() { # click CONTROL
    local left right middle
    waits_for "control [0-9]+ [0-9]+ [0-9]+ $1" 20
    read -r _ left right middle _ <<<"$(last "control [0-9]+ [0-9]+ [0-9]+ $1")"
    xdotool mousemove --window "$window" $(((left + right) / 2)) "$middle" sleep 0.3 click 1
    quiet 8
}
type_wall() { # type_wall LENGTH
    click 'field room.left_wall'
    chord a
    xdotool type --window "$window" --delay 60 "$1"
    xdotool key --window "$window" Return
}
from=1
click 'section Plan'
click find
xdotool type --window "$window" --delay 60 'left wall'
quiet
mark_now=$(($(wc -l <"$log") + 1))
type_wall 3111
from=$mark_now
check "a wall's length typed is taken" waits_for 'asked for: Edit\(Set .*3111'
picture plan
mark
chord z
check "Ctrl Z takes it back" waits_for 'verdict '
from=1
type_wall 3122
from=$mark_now
waits_for '3122'
quiet
chord s
quiet
check "saved: the new length, with all comments" bash -c "grep -q 'left_wall: 3122' '$plan' && [ $(comments "$plan") = $(comments "$plan_from") ]"
check "and nothing else differs" test "$(diff "$out/saved.ron" "$plan" | grep -c '^>')" = 1

# Killed in the midst of an edit: the next window offers what was not saved.
from=1
type_wall 3133
from=$mark_now
waits_for '3133'
quiet
kill -9 "$window_pid"
wait "$window_pid" 2>/dev/null
check "the file is as it was saved" grep -q 'left_wall: 3122' "$plan"
mark
start
check "after a crash the window opens again" waits_for 'update 3 after' 60
window=$(xdotool search --onlyvisible --name Elbowroom 2>/dev/null | head -1)
xdotool windowmove "$window" 0 0
[ "$size" = 1280x800 ] || xdotool windowsize "$window" $((${size%x*} - 2)) $((${size#*x} - 36))
quiet
picture found
click 'answer Take them up'
check "what was not saved is taken up" waits_for 'asked for: TakeFound\(true\)'
quiet
chord s
quiet
check "and saved" grep -q 'left_wall: 3133' "$plan"

# The work, step by step: the section opens, the next step comes, and the first section is back.
mark
click 'section Install'
check "the order of work is worked out" waits_for 'step 1 of [0-9]+' 90
mark
click 'next step'
check "the next step is shown" waits_for 'step 2 of [0-9]+'
mark
xdotool key --window "$window" n
check "N goes on" waits_for 'step 3 of [0-9]+'
xdotool key --window "$window" b
check "B goes back" waits_for 'step 2 of [0-9]+'
# The steps differ in length, and the slider stands below them.
quiet
mark
drag walls 20 80
check "the walls are drawn farther off" waits_for 'walls × 1[0-9]'
picture install

# What can be open together: a point dragged in the plot opens both; a pick of both fillers is set, and taken back.
mark
click 'section Together'
check "every two that meet are worked out" waits_for 'control .* plane two open' 90
read -r _ plot_left plot_right plot_middle _ <<<"$(last 'control [0-9]+ [0-9]+ [0-9]+ plane two open')"
mark
xdotool mousemove --window "$window" $(((plot_left + plot_right) / 2)) "$plot_middle" sleep 0.3 mousedown 1 sleep 0.4
for _ in $(seq 6); do xdotool mousemove_relative -- 6 6 sleep 0.15; done
xdotool mouseup 1
check "a drag in the plot opens both" waits_for 'open \["[^]]*", "'
check "and asked for no more than that" bash -c "! tail -n +$from '$log' | grep -q 'asked for: SetFillers'"
picture together
mark
xdotool key --window "$window" Escape
check "Escape shuts them" waits_for 'open \[\]'
xdotool mousemove --window "$window" $(((plot_left + plot_right) / 2)) "$plot_middle"
for _ in $(seq 25); do xdotool click 5 sleep 0.05; done
quiet
click 'take least sum'
check "the least sum of both fillers is set" waits_for 'asked for: SetFillers'
check "and all is clear" waits_for 'verdict clear'
picture fillers
mark
chord z
check "Ctrl Z takes it back" waits_for 'verdict '

# How sure it is: the worst case and the changes come by themselves, samples when asked for, and can be stopped.
mark
click 'section Sure'
check "changes that save filler are told" waits_for 'control .* try 1' 120
picture sure
mark
click 'draw samples'
check "samples are drawn" waits_for 'asked for: Sample\(true\)'
click 'stop drawing'
check "and stopped" waits_for 'asked for: Sample\(false\)'

# What it is like in use.
quiet
mark
click 'section In use'
check "it is told what it is like in use" waits_for 'asked for: Turn\(InUse\)'
picture in_use
quiet
click 'section Corner'

# Saves of the plan: a bad one keeps the picture, a good one put in its place is shown.
mark
echo '(name: 12' >"$plan"
check "a bad save is noticed" waits_for 'asked for: Reloaded'
sleep 1
picture bad_save
mark
cp "$plan_from" "$out/new.ron"
mv "$out/new.ron" "$plan"
check "a good save is shown" waits_for 'verdict '
sleep 1
picture good_save

# With the hands off, the window must come to rest, and stay so.
ticks() { awk '{print $14 + $15}' "/proc/$window_pid/stat"; }
quiet
for _ in $(seq 20); do
    before=$(ticks)
    sleep 3
    [ $(($(ticks) - before)) -le 3 ] && break
done
before=$(ticks)
sleep 10
spent=$(($(ticks) - before))
echo "        $spent ms of processor time a second when idle; first frames: $(grep -oE 'update [13] after [0-9]+ ms' "$log" | tr '\n' ' ')"
check "the idle window rests" test "$spent" -le 20
check "it is still alive" kill -0 "$window_pid"
check "it said nothing bad" bash -c "! grep -qE 'ERROR|panicked' '$log'"
echo "pictures and log: $out"
exit $failed

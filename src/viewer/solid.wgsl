// What a part is made of, all through: wood with its rings and fibres, stone, boards, tile, plaster, paint, metal.
//
// Each pattern is a function of the place inside the part (metres; x along the grain, y across the width, z through the
// thickness, from the part's middle), so that a board's faces, edges and ends belong together. The part's number moves it
// about in its log, so that no two boards are alike. Detail finer than a pixel fades to its mean.

#import bevy_pbr::{
    forward_io::{VertexOutput, FragmentOutput},
    mesh_functions::get_tag,
    pbr_fragment::pbr_input_from_standard_material,
    pbr_functions::{alpha_discard, apply_pbr_lighting, main_pass_post_lighting_processing},
}

struct Figure {
    // The ground colour; w says which pattern.
    ground: vec4<f32>,
    // The second colour: latewood, veins, joints; w is the pattern's size in metres.
    second: vec4<f32>,
    // How strong: bands, fibres, pores, flecks.
    strength: vec4<f32>,
    // A colour laid over all, and how much of it.
    over: vec4<f32>,
}

@group(#{MATERIAL_BIND_GROUP}) @binding(100) var<uniform> figure: Figure;

const TURN: f32 = 6.2831853;

fn mixed(x: u32) -> u32 {
    var h = x * 0x9E3779B1u;
    h = (h ^ (h >> 15u)) * 0x2C1B3C6Du;
    h = (h ^ (h >> 12u)) * 0x297A2D39u;
    return h ^ (h >> 15u);
}

// A number 0..1 for a cell.
fn cell(c: vec3<i32>, seed: u32) -> f32 {
    let h = mixed(u32(c.x) * 0x8DA6B343u ^ u32(c.y) * 0xD8163841u ^ u32(c.z) * 0xCB1AB31Fu ^ seed);
    return f32(h & 0xFFFFu) / 65535.0;
}

fn several(seed: u32) -> vec4<f32> {
    let a = mixed(seed + 17u);
    let b = mixed(a + 29u);
    return vec4<f32>(f32(a & 0xFFFFu), f32(a >> 16u), f32(b & 0xFFFFu), f32(b >> 16u)) / 65535.0;
}

// Smooth noise 0..1 with cells of size 1.
fn noise(p: vec3<f32>, seed: u32) -> f32 {
    let base = floor(p);
    let c = vec3<i32>(base);
    let t = p - base;
    let f = t * t * (3.0 - 2.0 * t);
    let x00 = mix(cell(c, seed), cell(c + vec3<i32>(1, 0, 0), seed), f.x);
    let x10 = mix(cell(c + vec3<i32>(0, 1, 0), seed), cell(c + vec3<i32>(1, 1, 0), seed), f.x);
    let x01 = mix(cell(c + vec3<i32>(0, 0, 1), seed), cell(c + vec3<i32>(1, 0, 1), seed), f.x);
    let x11 = mix(cell(c + vec3<i32>(0, 1, 1), seed), cell(c + vec3<i32>(1, 1, 1), seed), f.x);
    return mix(mix(x00, x10, f.y), mix(x01, x11, f.y), f.z);
}

fn clouds(p: vec3<f32>, seed: u32) -> f32 {
    return noise(p, seed) * 0.53 + noise(p * 2.03, seed + 1u) * 0.27 + noise(p * 4.01, seed + 2u) * 0.13 + noise(p * 8.05, seed + 3u) * 0.07;
}

// How much of a pattern with this many cells in a pixel is left.
fn kept(cells_in_pixel: f32) -> f32 {
    return 1.0 - smoothstep(0.35, 1.1, cells_in_pixel);
}

// Wood at p; gives the colour. `pixel` is the size of a pixel on the surface, metres; `end` is 1 on end grain.
fn wood(p: vec3<f32>, seed: u32, pixel: f32, end: f32) -> vec3<f32> {
    let ring_width = figure.second.w;
    let h = several(seed);
    // Where the board lay in its log: the pith stands off its middle, mostly behind a face.
    let pith = vec2<f32>((h.x - 0.5) * 0.22, select(-1.0, 1.0, h.y > 0.5) * mix(0.025, 0.11, h.z));
    let along = p.x + h.w * 40.0;
    let bend = vec2<f32>(noise(vec3<f32>(along * 0.9, 0.5, 0.5), seed), noise(vec3<f32>(along * 0.9, 7.5, 0.5), seed)) - 0.5;
    let q = p.yz + pith + bend * 0.030;
    // A tree is a cone: that makes the arches of a flat-sawn face.
    var radius = length(q) + p.x * mix(-0.014, 0.014, step(0.5, h.w));
    radius += (noise(vec3<f32>(along * 2.2, q * 11.0), seed + 3u) - 0.5) * ring_width * 1.6;
    radius += (noise(vec3<f32>(along * 9.0, q * 60.0), seed + 4u) - 0.5) * ring_width * 0.35;
    let ring = radius / ring_width;
    let year = floor(ring);
    let season = ring - year;
    // Good years and bad ones.
    let vigour = 0.55 + 0.45 * cell(vec3<i32>(i32(year), 3, 5), seed);
    let edge = clamp(fwidth(ring), 0.001, 1.0);
    let late = smoothstep(0.30, 0.90, season) * (1.0 - smoothstep(1.0 - clamp(edge, 0.06, 0.3), 1.0, season));
    let band = mix(0.34, late * vigour, kept(edge * 1.3));

    let broad = noise(vec3<f32>(along * 0.8, q * 7.0), seed + 5u);
    let streak = noise(vec3<f32>(along * 3.0, q * 190.0), seed + 6u);
    let fibre = noise(vec3<f32>(along * 9.0, q * 800.0), seed + 7u);
    let fibres = (streak - 0.5) * 0.65 * kept(pixel * 190.0) + (fibre - 0.5) * 0.55 * kept(pixel * 800.0);

    var dark = band * figure.strength.x + fibres * figure.strength.y * (1.0 - 0.7 * end) + (broad - 0.5) * 0.34;
    // Vessels: dark dashes in the earlywood, or all over.
    if figure.strength.z > 0.0 {
        let vessels = noise(vec3<f32>(along * 32.0, q * 1100.0), seed + 8u);
        let open = smoothstep(0.62, 0.80, vessels) * (1.0 - 0.8 * smoothstep(0.25, 0.5, season));
        dark += figure.strength.z * mix(0.14, open, kept(pixel * 800.0));
    }
    var colour = mix(figure.ground.rgb, figure.second.rgb, clamp(dark, 0.0, 1.25));
    // Rays: short pale flecks.
    if figure.strength.w > 0.0 {
        let ray = noise(vec3<f32>(along * 70.0, q * 420.0), seed + 9u);
        colour *= 1.0 + figure.strength.w * smoothstep(0.72, 0.86, ray) * kept(pixel * 420.0);
    }
    // Boards differ, and end grain drinks the finish.
    let tone = 1.0 + (h.y - 0.5) * 0.12;
    return colour * tone * (1.0 - 0.30 * end);
}

fn speckled(p: vec3<f32>, seed: u32, pixel: f32) -> vec3<f32> {
    let size = figure.second.w;
    let drift = clouds(p * 5.0, seed);
    let coarse = noise(p / size, seed + 1u);
    let fine = noise(p / (size * 0.45), seed + 2u);
    let dark = smoothstep(0.56, 0.74, coarse) * kept(pixel / size) + 0.22 * (1.0 - kept(pixel / size));
    let pale = smoothstep(0.60, 0.78, fine) * kept(pixel / (size * 0.45));
    let colour = mix(figure.ground.rgb, figure.second.rgb, clamp(dark * figure.strength.x + (drift - 0.5) * figure.strength.y, 0.0, 1.0));
    return colour * (1.0 + pale * figure.strength.z);
}

fn veined(p: vec3<f32>, seed: u32, pixel: f32) -> vec3<f32> {
    let size = figure.second.w;
    let warp = vec3<f32>(clouds(p * 2.1, seed), clouds(p * 2.1 + 11.0, seed), clouds(p * 2.1 + 23.0, seed)) - 0.5;
    let q = p / size + warp * 2.6;
    let first = 1.0 - abs(2.0 * noise(q + vec3<f32>(q.y, 0.0, q.x) * 0.7, seed + 4u) - 1.0);
    let second = 1.0 - abs(2.0 * noise(q * 2.7 + 5.0, seed + 5u) - 1.0);
    let veins = pow(first, 14.0) + 0.4 * pow(second, 18.0);
    let drift = clouds(p * 3.0, seed + 6u);
    let dark = veins * figure.strength.x * (0.35 + drift) + (drift - 0.5) * figure.strength.y;
    return mix(figure.ground.rgb, figure.second.rgb, clamp(dark, 0.0, 1.0)) * (1.0 + (noise(p * 700.0, seed) - 0.5) * figure.strength.z * kept(pixel * 700.0));
}

// How much of a joint of half this width lies in the pixel, at this distance from its middle.
fn joint(distance: f32, half_width: f32, pixel: f32) -> f32 {
    let covered = clamp((half_width + pixel * 0.5 - distance) / pixel, 0.0, 1.0);
    return min(covered, 2.0 * half_width / pixel);
}

// Boards this wide and long; `gap` is half the width of the joint between them, `shade` how dark it is.
fn boards(p: vec3<f32>, pixel: f32, wide: f32, long: f32, gap: f32, shade: f32) -> vec3<f32> {
    let row = floor(p.y / wide);
    let start = cell(vec3<i32>(i32(row), 1, 1), 77u) * long;
    let place = floor((p.x + start) / long);
    let seed = mixed(u32(i32(row) + 512) * 131u + u32(i32(place) + 512));
    let inside = vec3<f32>(p.x + start - (place + 0.5) * long, p.y - (row + 0.5) * wide, p.z);
    let tone = several(seed + 3u);
    var colour = wood(inside, seed, pixel, 0.0) * (0.88 + 0.20 * tone.x);
    let across = wide * 0.5 - abs(inside.y);
    let butt = long * 0.5 - abs(inside.x);
    let seam = max(joint(across, gap, pixel), joint(butt, gap, pixel));
    return colour * (1.0 - shade * seam);
}

fn tiles(p: vec3<f32>, pixel: f32) -> vec4<f32> {
    let size = figure.second.w;
    let c = floor(p.xy / size);
    let inside = (p.xy / size - c - 0.5) * size;
    let edge = size * 0.5 - max(abs(inside.x), abs(inside.y));
    let tone = cell(vec3<i32>(vec2<i32>(c), 2), 5u);
    let grout = joint(edge, 0.0013, pixel);
    let glaze = clouds(p * 9.0 + tone * 7.0, 3u);
    let colour = figure.ground.rgb * (1.0 + (tone - 0.5) * 0.05 + (glaze - 0.5) * 0.04);
    return vec4<f32>(mix(colour, figure.second.rgb, grout), grout);
}

@fragment
fn fragment(in: VertexOutput, @builtin(front_facing) is_front: bool) -> FragmentOutput {
    // The mesh brings the place in the part as its colour.
    let p = in.color.xyz;
    let end = in.color.w;
    let seed = mixed(get_tag(in.instance_index));
    let pixel = max(length(fwidth(p)) * 0.7, 1e-6);
    var colour = figure.ground.rgb;
    // What the pattern adds to the roughness.
    var rough = 0.0;
    switch i32(figure.ground.w) {
        case 1: { colour = wood(p, seed, pixel, end); }
        case 2: { colour = speckled(p, 11u, pixel); }
        case 3: { colour = veined(p, 13u, pixel); }
        case 4: { colour = boards(p, pixel, 0.15, 1.7, 0.0010, 0.72); }
        case 9: { colour = boards(p, pixel, 0.085, 2.6, 0.0004, 0.25) * (1.0 - 0.25 * end); }
        case 5: {
            let tile = tiles(p, pixel);
            colour = tile.rgb;
            rough = 0.7 * tile.w;
        }
        case 6: {
            // Rolled plaster, or cast concrete: clouds, and a little grit.
            let cloudy = clouds(p * figure.second.w, 19u) - 0.5;
            let grit = (noise(p * 260.0, 23u) - 0.5) * kept(pixel * 260.0);
            colour = mix(colour, figure.second.rgb, clamp(0.5 + cloudy * 2.0, 0.0, 1.0) * figure.strength.x);
            colour *= 1.0 + grit * figure.strength.y;
        }
        case 7: {
            // Brushed lengthways.
            let brushed = noise(vec3<f32>(p.x * 14.0, p.yz * 2600.0), seed) - 0.5;
            let seen = brushed * kept(pixel * 1300.0);
            colour *= 1.0 + seen * 0.16;
            rough = seen * 0.16;
        }
        case 8: {
            // A sky behind a pane, paler towards the horizon.
            colour = mix(figure.second.rgb, figure.ground.rgb, smoothstep(-0.5, 0.5, p.x / figure.second.w));
        }
        default: {}
    }
    // The edges of fronts look into narrow gaps, where little light comes.
    colour *= 1.0 - 0.5 * in.uv_b.x;
    colour = mix(colour, figure.over.rgb, figure.over.w);
    // Now the colour stands where Bevy's material looks for it, before it reckons with what shades it.
    var coloured = in;
    coloured.color = vec4<f32>(colour, 1.0);
    var pbr = pbr_input_from_standard_material(coloured, is_front);
    pbr.material.base_color = alpha_discard(pbr.material, pbr.material.base_color);
    pbr.material.perceptual_roughness = clamp(pbr.material.perceptual_roughness + rough, 0.06, 1.0);

    var out: FragmentOutput;
    out.color = apply_pbr_lighting(pbr);
    out.color = main_pass_post_lighting_processing(pbr, out.color);
    return out;
}

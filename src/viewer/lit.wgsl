// One surface under a sun with shadow, a sky that is brighter than the floor, and a fill light without shadow.

#import bevy_pbr::{
    forward_io::VertexOutput,
    mesh_functions::get_tag,
    mesh_view_bindings::{lights, view},
    shadows::fetch_directional_shadow,
}

struct Lit {
    colour: vec4<f32>,
    // Light of its own; w is how much it shines.
    glow: vec4<f32>,
    // Towards the fill light; w is its strength.
    fill: vec4<f32>,
}

@group(#{MATERIAL_BIND_GROUP}) @binding(0) var<uniform> lit: Lit;
@group(#{MATERIAL_BIND_GROUP}) @binding(1) var picture: texture_2d<f32>;
@group(#{MATERIAL_BIND_GROUP}) @binding(2) var picture_sampler: sampler;

@fragment
fn fragment(in: VertexOutput) -> @location(0) vec4<f32> {
    let normal = normalize(in.world_normal);
    // Each part is cut from another place of the picture, so that no two neighbours are alike.
    let tag = get_tag(in.instance_index);
    let cut = vec2<f32>(f32((tag * 0x9E3779B1u) >> 16u), f32((tag * 0x85EBCA77u) >> 16u)) / 65536.0;
    // The edges of fronts look into narrow gaps, where little light comes.
    let gap = 1.0 - 0.5 * in.uv_b.x;
    let base = gap * lit.colour.rgb * textureSample(picture, picture_sampler, in.uv + cut).rgb;

    let sky = vec3<f32>(0.50, 0.53, 0.57);
    let floor_light = vec3<f32>(0.36, 0.32, 0.29);
    var light = mix(floor_light, sky, normal.y * 0.5 + 0.5);
    light += max(dot(normal, lit.fill.xyz), 0.0) * lit.fill.w * vec3<f32>(0.92, 0.96, 1.0);

    var shine = 0.0;
    if lights.n_directional_lights > 0u {
        let to_sun = lights.directional_lights[0].direction_to_light.xyz;
        let facing = max(dot(normal, to_sun), 0.0);
        if facing > 0.0 {
            let view_z = dot(vec4<f32>(
                view.view_from_world[0].z,
                view.view_from_world[1].z,
                view.view_from_world[2].z,
                view.view_from_world[3].z
            ), in.world_position);
            let shadow = fetch_directional_shadow(0u, in.world_position, normal, view_z, in.position.xy);
            light += facing * shadow * vec3<f32>(0.80, 0.77, 0.71);
            let to_eye = normalize(view.world_position.xyz - in.world_position.xyz);
            let half_way = normalize(to_sun + to_eye);
            shine = pow(max(dot(normal, half_way), 0.0), 36.0) * shadow * lit.glow.w;
        }
    }
    return vec4<f32>(base * light + lit.glow.rgb + vec3<f32>(shine), lit.colour.a);
}

// A vertex of a body's face. Faces are flat, so their light is reckoned here.
// The eye is a point in perspective (eye.w = 1), else the direction that leads to it (eye.w = 0).

layout(location = 0) in vec3 at;
layout(location = 1) in vec3 facing;
layout(location = 2) in float open;
layout(location = 3) in vec3 rim_a;
layout(location = 4) in vec3 rim_b;
layout(location = 5) in vec3 beyond_a; // the planes beyond the edges, see view/mesh.h
layout(location = 6) in vec3 beyond_b;
layout(location = 7) in uint body;

layout(std140) uniform Bodies {
    vec4 place[BODIES]; // offset; w: 0 plain, 1 ghost, 2 lit, 3 rim
    vec4 paint[BODIES]; // colour; w: how opaque
};

uniform mat4 clip;
uniform vec4 eye;
uniform vec3 right, upwards, back;
uniform vec3 paper, ink_colour;
uniform vec3 mist;  // depth at which it begins, 1 / how deep it is, how dense it gets
uniform vec2 lines; // how strong edges are on faces turned to the eye, and on those turned away

flat out vec4 fill;
flat out vec4 ink;
out vec3 near_a, near_b;
flat out vec3 share_a, share_b;
out vec2 tone; // light in grooves, and mist

// What a distance to an edge counts: less where the face beyond the edge is turned away from the
// eye, since the line then has but this side to be drawn on; else 1.
float share(float code, vec3 offset) {
    float limit = floor(code / 32.0), digits = code - 32.0 * limit;
    float z = floor(digits / 9.0), y = floor((digits - 9.0 * z) / 3.0);
    vec3 normal = vec3(digits - 9.0 * z - 3.0 * y, y, z) - 1.0;
    return dot(normal, eye.xyz - offset * eye.w) - limit * eye.w > 0.0 ? 1.0 : 0.7;
}

vec3 share3(vec3 codes, vec3 offset) {
    return vec3(share(codes.x, offset), share(codes.y, offset), share(codes.z, offset));
}

void main() {
    vec4 where = place[body];
    vec3 p = at + where.xyz;
    gl_Position = clip * vec4(p, 1.0);

    vec3 n = normalize(facing);
    bool away = dot(n, eye.xyz - p * eye.w) < 0.0;
    vec3 seen = away ? -n : n;
    vec3 turned = vec3(dot(seen, right), dot(seen, upwards), dot(seen, back));
    float key = dot(turned, vec3(-0.40, 0.72, 0.57));
    float light = 0.76 + 0.27 * key + 0.04 * n.z - 0.035 * n.x;
    vec4 colour = paint[body];
    // Colours go towards white where the light is strong, so that bright faces stay matte.
    vec3 lit = colour.rgb * min(light, 1.0) + vec3(max(light - 1.0, 0.0));
    fill = vec4(lit, away ? colour.a * 0.6 : colour.a);
    ink = vec4(where.w == 3.0   ? colour.rgb
               : where.w == 2.0 ? mix(ink_colour, colour.rgb, 0.25)
                                : ink_colour,
               (away ? lines.y : lines.x) * (where.w == 1.0 ? 0.35 : 1.0));

    near_a = rim_a;
    near_b = rim_b;
    share_a = away ? vec3(1.0) : share3(beyond_a, where.xyz);
    share_b = away ? vec3(1.0) : share3(beyond_b, where.xyz);
    float depth = dot(back, eye.xyz * eye.w - p);
    tone = vec2(mix(0.70, 1.0, open), clamp((depth - mist.x) * mist.y, 0.0, 1.0) * mist.z);
}

// A body's face with its edges: ink where an edge is nearer than half a line's width.

flat in vec4 fill;
flat in vec4 ink;
in vec3 near_a, near_b;
flat in vec3 share_a, share_b;
in vec2 tone;

uniform vec3 paper;
uniform float half_width; // pixels

#ifdef PEEL
uniform sampler2D before; // depths of the layer before
#endif

layout(location = 0) out vec4 colour;

void main() {
#ifdef PEEL
    // Where bodies touch, the face that is left lies before the face that is entered.
    float depth = gl_FragCoord.z + (gl_FrontFacing ? 1e-6 : -1e-6);
    if (depth <= texelFetch(before, ivec2(gl_FragCoord.xy), 0).r + 5e-7)
        discard;
    gl_FragDepth = depth;
#endif
    vec3 ax = dFdx(near_a), ay = dFdy(near_a), bx = dFdx(near_b), by = dFdy(near_b);
    vec3 a = near_a * share_a * inversesqrt(ax * ax + ay * ay + 1e-12);
    vec3 b = near_b * share_b * inversesqrt(bx * bx + by * by + 1e-12);
    vec3 c = min(a, b);
    float line = 1.0 - smoothstep(half_width - 0.6, half_width + 0.6, min(c.x, min(c.y, c.z)));
    vec4 face = vec4(mix(fill.rgb * tone.x, paper, tone.y) * fill.a, fill.a);
    vec4 edge = vec4(mix(ink.rgb, paper, tone.y), 1.0) * ink.a;
    colour = edge * line + face * (1.0 - line * ink.a);
}

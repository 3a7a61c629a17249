// A corner of a straight stroke, drawn as two triangles of even width on the screen.

layout(location = 0) in vec3 at;
layout(location = 1) in vec3 other;
layout(location = 2) in float side; // pixels to the left of the stroke
layout(location = 3) in vec4 paint;

uniform mat4 clip;
uniform vec2 size; // of the picture, pixels

flat out vec4 colour;
out float across;

void main() {
    vec4 p = clip * vec4(at, 1.0), q = clip * vec4(other, 1.0);
    vec2 way = (q.xy / q.w - p.xy / p.w) * size;
    vec2 left = normalize(vec2(-way.y, way.x) + vec2(1e-6, 0.0));
    gl_Position = p + vec4(left * side * 2.0 / size * p.w, 0.0, 0.0);
    colour = paint;
    across = side;
}

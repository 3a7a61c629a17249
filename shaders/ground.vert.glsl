// The shadow's picture on the ground: four corners, told by their number.

uniform mat4 clip;
uniform vec3 corner, side_x, side_y;

out vec2 at;

void main() {
    at = vec2(float(gl_VertexID & 1), float(gl_VertexID >> 1));
    gl_Position = clip * vec4(corner + at.x * side_x + at.y * side_y, 1.0);
}

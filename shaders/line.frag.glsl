flat in vec4 colour;
in float across;

layout(location = 0) out vec4 stroke;

void main() {
    stroke = vec4(colour.rgb, 1.0) * colour.a;
}

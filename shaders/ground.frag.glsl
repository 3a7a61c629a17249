in vec2 at;

uniform sampler2D grey;
uniform vec4 shade; // colour; w: how dark at most

layout(location = 0) out vec4 colour;

void main() {
    colour = vec4(shade.rgb, 1.0) * (shade.a * texture(grey, at).r);
}

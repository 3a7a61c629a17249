uniform sampler2D layer;

layout(location = 0) out vec4 colour;

void main() {
    colour = texelFetch(layer, ivec2(gl_FragCoord.xy), 0);
}

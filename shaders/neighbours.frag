// How far the wall stands out on average about each place, for three reaches.
uniform sampler2D heightMap;  // mm; coarser levels are averages
uniform float heightTexelMm;
uniform float top;  // mm, shown as 1

in vec2 at;

layout(location = 0) out vec4 shown;

float average(float reach) {
  float level = log2(max(0.9 * reach / heightTexelMm, 1.0));
  return textureLod(heightMap, 0.5 + 0.5 * at, level).r;
}

void main() { shown = vec4(vec3(average(14.0), average(34.0), average(80.0)) / top, 1.0); }

// The wall's average height around each place, within three reaches: for the even light of light.glsl.
uniform sampler2D heightMap;  // mm; coarser levels are averages
uniform float heightTexelMm;
uniform float top;            // the height, in mm, written as 1

const vec3 reachesMm = vec3(14.0, 34.0, 80.0);  // from a petal's to a bloom's size; as in light.glsl

in vec2 at;

layout(location = 0) out vec4 shown;

float average(float reach) {
  float level = log2(max(0.9 * reach / heightTexelMm, 1.0));
  return textureLod(heightMap, 0.5 + 0.5 * at, level).r;
}

void main() { shown = vec4(vec3(average(reachesMm.x), average(reachesMm.y), average(reachesMm.z)) / top, 1.0); }

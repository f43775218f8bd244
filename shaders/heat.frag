// In how many shots each place of the wall is seen bare: the more, the darker and the warmer.
uniform sampler2D counts;   // 1 / 255 a shot
uniform vec4 frame;         // of the rectangle, mm
uniform float most;         // shots in all

in vec2 place;

layout(location = 0) out vec4 shown;

void main() {
  vec2 at = (place - frame.xy) / (frame.zw - frame.xy);
  float shots = 255.0 * texture(counts, at).r;
  if (shots < 0.5) discard;
  float share = clamp((shots - 1.0) / max(most - 1.0, 1.0), 0.0, 1.0);
  vec3 light = vec3(0.93, 0.66, 0.28);
  vec3 middle = vec3(0.78, 0.29, 0.16);
  vec3 dark = vec3(0.29, 0.06, 0.16);
  vec3 colour = share < 0.5 ? mix(light, middle, 2.0 * share) : mix(middle, dark, 2.0 * share - 1.0);
  shown = vec4(colour, 0.92);
}

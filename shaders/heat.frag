// In how many shots each place of the wall is seen bare: the more, the darker and the warmer.
uniform sampler2D counts;   // 1 / 255 a shot
uniform vec4 frame;         // of the rectangle, mm
uniform float most;         // shots in all
uniform vec3 lightest;      // sRGB, of one shot
uniform vec3 middle;
uniform vec3 darkest;       // of all

in vec2 place;

layout(location = 0) out vec4 shown;

void main() {
  vec2 at = (place - frame.xy) / (frame.zw - frame.xy);
  float shots = 255.0 * texture(counts, at).r;
  if (shots < 0.5) discard;
  float share = clamp((shots - 1.0) / max(most - 1.0, 1.0), 0.0, 1.0);
  vec3 colour = share < 0.5 ? mix(lightest, middle, 2.0 * share) : mix(middle, darkest, 2.0 * share - 1.0);
  shown = vec4(colour, 0.92);
}

// Colours each place of the wall by the number of shots that see it bare: the more shots, the darker and warmer.
uniform sampler2D counts;   // 1 / 255 for each shot
uniform vec4 frame;         // left, lower, right, upper edge of the map, mm
uniform float most;         // the number of shots
uniform vec3 lightest;      // sRGB, for a single shot
uniform vec3 middle;
uniform vec3 darkest;       // for all shots

const float shotsOfWhite = 255.0;
const float alpha = 0.92;   // lets the wall show through a little

in vec2 place;

layout(location = 0) out vec4 shown;

void main() {
  vec2 at = (place - frame.xy) / (frame.zw - frame.xy);
  float shots = shotsOfWhite * texture(counts, at).r;
  if (shots < 0.5) discard;
  float share = clamp((shots - 1.0) / max(most - 1.0, 1.0), 0.0, 1.0);
  vec3 colour = share < 0.5 ? mix(lightest, middle, 2.0 * share) : mix(middle, darkest, 2.0 * share - 1.0);
  shown = vec4(colour, alpha);
}

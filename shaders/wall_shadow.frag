// The share of the key light that the whole wall keeps away from the room behind it: the share of samples of the
// shadow map, within a soft light's reach, at which the light meets the wall.
uniform sampler2D shadowMap;  // as shadow.frag writes it; 0 where the light meets nothing
uniform float something;      // where the light meets the wall, the map's heights are above this
uniform vec2 low;             // of this map, as a share of the shadow map's sides
uniform vec2 size;            // likewise
uniform vec2 reach;           // likewise, the radius of the samples

const float goldenAngle = 2.3999632;  // turns the samples evenly over a disc
const int rays = 40;                  // samples: smooth enough for the blurred map
const float mapLevel = 2.0;           // averages 4 x 4 pixels of the shadow map

in vec2 at;

layout(location = 0) out float shown;

void main() {
  vec2 middle = low + size * (0.5 + 0.5 * at);
  float sum = 0.0;
  for (int k = 0; k < rays; ++k) {
    float turn = goldenAngle * float(k);
    vec2 there = middle + reach * sqrt((float(k) + 0.5) / float(rays)) * vec2(cos(turn), sin(turn));
    sum += textureLod(shadowMap, there, mapLevel).r > something ? 1.0 : 0.0;
  }
  shown = sum / float(rays);
}

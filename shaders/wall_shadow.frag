// How much of the key light the whole wall keeps away from what is far behind it.
uniform sampler2D shadowMap;  // as shadow.frag has it; 0 where the light meets nothing
uniform float something;      // heights above this are something's
uniform vec2 low;             // of this map, in the shadow map's sides
uniform vec2 size;
uniform vec2 reach;

in vec2 at;

layout(location = 0) out float shown;

void main() {
  vec2 middle = low + size * (0.5 + 0.5 * at);
  float sum = 0.0;
  const int rays = 40;
  for (int k = 0; k < rays; ++k) {
    float turn = 2.3999632 * float(k);
    vec2 there = middle + reach * sqrt((float(k) + 0.5) / float(rays)) * vec2(cos(turn), sin(turn));
    sum += textureLod(shadowMap, there, 2.0).r > something ? 1.0 : 0.0;
  }
  shown = sum / float(rays);
}

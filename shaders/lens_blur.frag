// What the lens spreads: each pixel gathers those neighbours whose own disc reaches it.
uniform sampler2D sharp;     // sRGB
uniform sampler2D depths;
uniform vec2 picture;        // px
uniform vec2 nearFar;        // mm
uniform vec2 lens;           // disc in px = lens.x * |D - lens.y| / D
uniform float mostPx;        // the largest disc's radius

in vec2 at;

layout(location = 0) out vec4 shown;

vec3 linear(vec3 s) { return mix(pow((s + 0.055) / 1.055, vec3(2.4)), s / 12.92, lessThanEqual(s, vec3(0.04045))); }
vec3 coded(vec3 l) { return mix(1.055 * pow(l, vec3(1.0 / 2.4)) - 0.055, 12.92 * l, lessThanEqual(l, vec3(0.0031308))); }

float distanceAt(vec2 uv) {
  float z = 2.0 * texture(depths, uv).r - 1.0;
  return 2.0 * nearFar.x * nearFar.y / (nearFar.y + nearFar.x - z * (nearFar.y - nearFar.x));
}

float radiusAt(float distance) { return min(0.5 * lens.x * abs(distance - lens.y) / distance, mostPx); }

void main() {
  vec2 uv = 0.5 + 0.5 * at;
  float here = distanceAt(uv);
  float own = radiusAt(here);
  // Every neighbour gives each pixel of its disc the same share of its light.
  float self = 1.0 / max(own * own, 0.32);
  vec3 sum = self * linear(texture(sharp, uv).rgb);
  float weight = self;
  const int taps = 72;
  float tap_px2 = 3.1415927 * mostPx * mostPx / float(taps);
  float turn = 6.2831853 * fract(52.9829189 * fract(dot(gl_FragCoord.xy, vec2(0.06711056, 0.00583715))));
  for (int k = 0; k < taps; ++k) {
    float out_px = mostPx * sqrt((float(k) + 0.5) / float(taps));
    float angle = 2.3999632 * float(k) + turn;
    vec2 there = uv + out_px * vec2(cos(angle), sin(angle)) / picture;
    float distance = distanceAt(there);
    float radius = radiusAt(distance);
    // What lies behind spreads over a sharper thing in front of it no farther than that one spreads itself.
    if (distance > here) radius = min(radius, max(own, 0.5));
    float reached = tap_px2 * smoothstep(out_px - 1.0, out_px + 0.5, radius) / max(radius * radius, 0.32);
    sum += reached * linear(texture(sharp, there).rgb);
    weight += reached;
  }
  shown = vec4(coded(sum / weight), 1.0);
}

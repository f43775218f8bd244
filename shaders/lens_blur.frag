// Blurs a picture as the lens does: each pixel gathers the neighbours whose discs reach it (LensBlur).
uniform sampler2D sharp;     // sRGB
uniform sampler2D depths;
uniform vec2 picture;        // px
uniform vec2 nearFar;        // mm
uniform vec2 lens;           // disc in px = lens.x * |D - lens.y| / D
uniform float mostPx;        // the largest disc's radius

const float pi = 3.1415927;
const float goldenAngle = 2.3999632;  // turns the samples evenly over a disc
const int taps = 72;                  // samples: enough for a smooth disc of 8 % of the picture's width
const float leastRadius2 = 0.32;      // px^2, about a pixel's area as a disc: a sharp pixel keeps its own light

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
  // A neighbour gives each pixel of its disc the same share of its light.
  float self = 1.0 / max(own * own, leastRadius2);
  vec3 sum = self * linear(texture(sharp, uv).rgb);
  float weight = self;
  float tap_px2 = pi * mostPx * mostPx / float(taps);
  // Turns each pixel's samples differently, so that no pattern of samples shows: interleaved gradient noise
  // (J. Jimenez, SIGGRAPH 2014 course notes; values from memory).
  float turn = 2.0 * pi * fract(52.9829189 * fract(dot(gl_FragCoord.xy, vec2(0.06711056, 0.00583715))));
  for (int k = 0; k < taps; ++k) {
    float out_px = mostPx * sqrt((float(k) + 0.5) / float(taps));
    float angle = goldenAngle * float(k) + turn;
    vec2 there = uv + out_px * vec2(cos(angle), sin(angle)) / picture;
    float distance = distanceAt(there);
    float radius = radiusAt(distance);
    // A place farther away spreads over a nearer, sharper place no farther than the nearer place spreads itself.
    if (distance > here) radius = min(radius, max(own, 0.5));
    float share = tap_px2 * smoothstep(out_px - 1.0, out_px + 0.5, radius) / max(radius * radius, leastRadius2);
    sum += share * linear(texture(sharp, there).rgb);
    weight += share;
  }
  shown = vec4(coded(sum / weight), 1.0);
}

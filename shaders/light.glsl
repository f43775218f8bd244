// The light on the wall: a broad soft light from the upper left in front, whose shadows come from a map, and
// an even one from all of the front, which neighbours keep away as far as they stand higher.
uniform sampler2DShadow shadowMap;
uniform sampler2D neighbours;    // how far the wall stands out on average about a place, mm: 14, 34 and 80 mm around
uniform mat4 shadowFromWall;     // to 0..1
uniform float shadowTexel;       // one texel of the map, of its side
uniform vec2 shadowScale;        // of the map's sides, 1 / mm
uniform vec2 heightOrigin;       // mm
uniform vec2 heightScale;        // 1 / mm
uniform vec3 towardsLight;       // unit

const vec3 keyColour = vec3(1.06, 1.0, 0.93);
const vec3 skyColour = vec3(0.95, 0.99, 1.06);

float litAt(vec3 at) { return texture(shadowMap, at); }

// The share of the key light that reaches a place, 0 to 1.
float keyReaching(vec3 place, vec3 facing) {
  vec4 shadow = shadowFromWall * vec4(place + 4.0 * facing, 1.0);
  vec3 at = shadow.xyz;
  if (any(lessThan(at.xy, vec2(0.0))) || any(greaterThan(at.xy, vec2(1.0)))) return 1.0;
#ifdef QUICK
  return litAt(at);
#else
  float near = 0.9 * shadowTexel;
  float far = 2.2 * shadowTexel;
  float sum = litAt(at + vec3(near, far, 0.0)) + litAt(at + vec3(-near, -far, 0.0));
  sum += litAt(at + vec3(-far, near, 0.0)) + litAt(at + vec3(far, -near, 0.0));
  float wide = 4.0 * shadowTexel;
  sum += litAt(at + vec3(wide, wide, 0.0)) + litAt(at + vec3(-wide, -wide, 0.0));
  sum += litAt(at + vec3(-wide, wide, 0.0)) + litAt(at + vec3(wide, -wide, 0.0));
  return 0.125 * sum;
#endif
}

// The share of the even light that reaches a place, 0 to 1.
float evenReaching(vec3 place, vec3 facing) {
  vec2 at = (place.xy + 16.0 * facing.xy - heightOrigin) * heightScale;
  vec3 higher = (texture(neighbours, at).rgb - place.z) / vec3(14.0, 34.0, 80.0);
  return 1.0 - dot(clamp(higher, 0.0, 1.0), vec3(0.34, 0.3, 0.26));
}

// What paper of that colour sends back; a flat one in the open about its colour. `thin`: how much light comes
// through from behind.
vec3 litPaper(vec3 place, vec3 facing, vec3 colour, float thin) {
  const float wrap = 0.18;
  float c = dot(facing, towardsLight);
  float key = max(c + wrap, 0.0) / (1.0 + wrap);
  float reaching = keyReaching(place, facing);
  float open = evenReaching(place, facing);
  float even = 0.62 + 0.24 * facing.z + 0.14 * facing.y;
  vec3 straight = 0.62 * key * reaching * 1.38 * keyColour + 0.5 * even * open * skyColour;
  vec3 through = thin * 0.3 * max(-c, 0.0) * reaching * keyColour;
  // What neighbours keep away they give back in their own colour, taken to be like this one.
  vec3 back = 0.26 * (1.0 - open) * colour;
  return colour * (straight + back) + colour * sqrt(colour) * through;
}

// IEC 61966-2-1's curve by three square roots, to 0.002.
vec3 srgb(vec3 linear) {
  vec3 r2 = sqrt(max(linear, vec3(0.0)));
  vec3 r4 = sqrt(r2);
  vec3 r8 = sqrt(r4);
  return max(0.662002687 * r2 + 0.68412206 * r4 - 0.323583601 * r8 - 0.022541147 * linear, vec3(0.0));
}

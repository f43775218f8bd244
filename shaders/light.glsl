// The light on the wall: a broad soft light from the upper left in front, whose shadows come from a map, and
// an even one from all of the front, which neighbours keep away as far as they stand higher.
uniform sampler2D shadowMap;     // what the light meets first on its way to the board plane, as in shadow.frag
uniform vec2 shadowHeights;      // mm to the map's heights: factor, then added
uniform sampler2D neighbours;    // how far the wall stands out on average about a place: 14, 34 and 80 mm around
uniform float neighbourTop;      // mm, where those are 1
uniform sampler2D wallShadow;    // how much of the light the whole wall keeps away, 0 to 1
uniform vec2 lightSlope;         // over the board plane, towards the light, with each mm out from it
uniform vec2 shadowOrigin;       // mm
uniform vec2 shadowScale;        // 1 / mm
uniform vec2 wallShadowOrigin;   // mm
uniform vec2 wallShadowScale;    // 1 / mm
uniform vec2 heightOrigin;       // mm
uniform vec2 heightScale;        // 1 / mm
uniform vec3 towardsLight;       // unit

const vec3 keyColour = vec3(1.06, 1.0, 0.93);
const vec3 skyColour = vec3(0.95, 0.99, 1.06);

// The share of the key light that reaches a place, 0 to 1: by Chebyshev's inequality no more than so much of what
// was averaged lies below it. A little less, since three things one above the other let too much through.
float keyReaching(vec3 place, vec3 facing) {
  vec3 from = place + 4.0 * facing;
  vec2 at = (from.xy - from.z * lightSlope - shadowOrigin) * shadowScale;
  vec2 met = textureLod(shadowMap, at, 2.0).rg;
  met.r = 2.0 * met.r - 1.0;
  float over = max(met.r - (from.z * shadowHeights.x + shadowHeights.y), 0.0);
  float spread = max(met.g - met.r * met.r, shadowHeights.x * shadowHeights.x);  // at least 1 mm
  return clamp((spread / (spread + over * over) - 0.12) / 0.88, 0.0, 1.0);
}

// The share of the even light that reaches a place, 0 to 1.
float evenReaching(vec3 place, vec3 facing) {
  vec2 at = (place.xy + 16.0 * facing.xy - heightOrigin) * heightScale;
  vec3 higher = (neighbourTop * texture(neighbours, at).rgb - place.z) / vec3(14.0, 34.0, 80.0);
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
  // The square root of the colour, to 0.03: what comes through is deeper than what is sent back.
  vec3 deeper = (1.23 - 0.45 * colour) * colour + 0.22;
  return colour * (straight + back + deeper * through);
}

// IEC 61966-2-1's curve by one square root, to 0.002 (half a step of 8 bits) but for what is darker than 0.04,
// which comes out up to 0.008 too dark.
vec3 srgb(vec3 linear) {
  vec3 r = sqrt(max(linear, vec3(0.0)));
  return max(((0.21708 * r - 0.54082) * r + 1.357606) * r - 0.031978, vec3(0.0));
}

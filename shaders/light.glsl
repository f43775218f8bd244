// The light on the wall, for paper.frag and room.frag: a broad soft key light from the upper left in front, whose
// shadows come from a map, and an even light from the whole front, which higher neighbours keep away. LightMaps sets
// the uniforms. Strengths and weights are set by eye, so that flat paper in the open shows about its own colour.
uniform sampler2D shadowMap;     // the heights that the key light meets first, as shadow.frag writes them
uniform vec2 shadowHeights;      // factor and summand that convert mm to the map's heights
uniform sampler2D neighbours;    // the wall's average height around a place, as neighbours.frag writes it
uniform float neighbourTop;      // the height, in mm, that the map shows as 1
uniform sampler2D wallShadow;    // the share of the key light that the whole wall keeps away, 0 to 1
uniform vec2 lightSlope;         // how far a ray moves over the board plane for each mm out from it
uniform vec2 shadowOrigin;       // mm
uniform vec2 shadowScale;        // 1 / mm
uniform vec2 wallShadowOrigin;   // mm
uniform vec2 wallShadowScale;    // 1 / mm
uniform vec2 heightOrigin;       // mm
uniform vec2 heightScale;        // 1 / mm
uniform vec3 towardsLight;       // unit

const vec3 keyColour = vec3(1.06, 1.0, 0.93);
const vec3 skyColour = vec3(0.95, 0.99, 1.06);
const vec3 neighbourReachesMm = vec3(14.0, 34.0, 80.0);  // as in neighbours.frag

// The share of the key light that reaches a place, 0 to 1. By Chebyshev's inequality at most this share of the
// averaged heights lies below the place. It is lowered a little, since three layers of paper let too much through.
float keyReaching(vec3 place, vec3 facing) {
  const float offPaperMm = 4.0;  // keeps paper from shading itself
  const float mapLevel = 2.0;    // averages 4 x 4 pixels of the map
  const float lowered = 0.12;
  vec3 from = place + offPaperMm * facing;
  vec2 at = (from.xy - from.z * lightSlope - shadowOrigin) * shadowScale;
  vec2 met = textureLod(shadowMap, at, mapLevel).rg;
  met.r = 2.0 * met.r - 1.0;
  float over = max(met.r - (from.z * shadowHeights.x + shadowHeights.y), 0.0);
  float spread = max(met.g - met.r * met.r, shadowHeights.x * shadowHeights.x);  // of at least 1 mm
  return clamp((spread / (spread + over * over) - lowered) / (1.0 - lowered), 0.0, 1.0);
}

// The share of the even light that reaches a place, 0 to 1.
float evenReaching(vec3 place, vec3 facing) {
  const float aheadMm = 16.0;  // looks at the neighbours on the side that the paper faces
  const vec3 weights = vec3(0.34, 0.3, 0.26);
  vec2 at = (place.xy + aheadMm * facing.xy - heightOrigin) * heightScale;
  vec3 higher = (neighbourTop * texture(neighbours, at).rgb - place.z) / neighbourReachesMm;
  return 1.0 - dot(clamp(higher, 0.0, 1.0), weights);
}

// The light that paper of a colour sends back. `thin`: how much light comes through from behind.
vec3 litPaper(vec3 place, vec3 facing, vec3 colour, float thin) {
  const float wrap = 0.18;  // the broad light reaches a little around an edge
  float c = dot(facing, towardsLight);
  float key = max(c + wrap, 0.0) / (1.0 + wrap);
  float reaching = keyReaching(place, facing);
  float open = evenReaching(place, facing);
  float even = 0.62 + 0.24 * facing.z + 0.14 * facing.y;
  vec3 straight = 0.62 * key * reaching * 1.38 * keyColour + 0.5 * even * open * skyColour;
  vec3 through = thin * 0.3 * max(-c, 0.0) * reaching * keyColour;
  // Neighbours send the even light that they keep away back in their own colour, here taken to be this colour.
  vec3 back = 0.26 * (1.0 - open) * colour;
  // About the colour's square root, to 0.03: light that comes through is deeper in colour than light sent back.
  vec3 deeper = (1.23 - 0.45 * colour) * colour + 0.22;
  return colour * (straight + back + deeper * through);
}

// The curve of IEC 61966-2-1 by a polynomial in the square root, to 0.002 (half a step of 8 bits); linear values
// below 0.04 come out up to 0.008 too dark.
vec3 srgb(vec3 linear) {
  vec3 r = sqrt(max(linear, vec3(0.0)));
  return max(((0.21708 * r - 0.54082) * r + 1.357606) * r - 0.031978, vec3(0.0));
}

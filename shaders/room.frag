// Draws the calm room around the wall where nothing else was drawn: a softly lit box, darker in its corners, under
// the wall and under people. Brightness and reaches are set by eye.
uniform mat4 wallFromClip;
uniform vec4 eye;
uniform vec3 roomLow;     // mm: left, floor, back wall
uniform vec3 roomHigh;    // mm: right, ceiling, behind the guests
uniform vec3 roomColour;  // linear
uniform vec4 wallFrame;   // left, lower, right, upper edge of the wall, mm

const int mostStanding = 24;  // WallRenderer sends no more
uniform vec3 standing[mostStanding];  // people: right, out, width, mm
uniform int standingCount;

in vec2 at;

layout(location = 0) out vec4 shown;

// The place where a ray from inside the box leaves it; `facing`: the direction into the box there.
vec3 leaving(vec3 from, vec3 towards, out vec3 facing) {
  vec3 wall = mix(roomLow, roomHigh, step(vec3(0.0), towards));
  vec3 far = (wall - from) / (abs(towards) + 1e-9) * sign(towards + 1e-12);
  far = abs(far);
  float least = min(far.x, min(far.y, far.z));
  facing = -sign(towards) * vec3(lessThanEqual(far, vec3(least)));
  return from + least * towards;
}

// Darkens towards the box's corners.
float corner(float distance) { return 1.0 - 0.16 * exp(-max(distance, 0.0) / 420.0); }

float cornersAt(vec3 place, vec3 facing) {
  vec3 low = place - roomLow + 1e4 * abs(facing);
  vec3 high = roomHigh - place + 1e4 * abs(facing);
  vec3 near = min(low, high);
  return corner(near.x) * corner(near.y) * corner(near.z);
}

// Darkens the floor near the wall, which keeps light away.
float underWall(vec3 place) {
  float beside = max(max(wallFrame.x - place.x, place.x - wallFrame.z), 0.0);
  float away = length(vec2(beside, place.z < 0.0 ? 0.5 * place.z : place.z));
  return 1.0 - 0.34 * exp(-away / 260.0);
}

float underPeople(vec3 place) {
  float light = 1.0;
  for (int k = 0; k < standingCount; ++k) {
    vec2 away = (place.xz - standing[k].xy - vec2(30.0, 0.0)) / standing[k].z;
    light *= 1.0 - 0.42 * exp(-1.4 * dot(away, away));
  }
  return light;
}

float shadowOfWall(vec3 place) {
  return texture(wallShadow, (place.xy - place.z * lightSlope - wallShadowOrigin) * wallShadowScale).r;
}

void main() {
  vec4 through = wallFromClip * vec4(at, 0.0, 1.0);
  vec3 towards = normalize(through.xyz / through.w - eye.xyz);
  vec3 facing;
  vec3 place = leaving(eye.xyz, towards, facing);
  float light = 0.8;
  if (facing.y > 0.5) light = 0.74 * underWall(place) * underPeople(place);
  if (facing.y < -0.5) light = 0.9;
  if (facing.z > 0.5) {
    float height = place.y - roomLow.y;
    light = 0.76 + 0.2 * smoothstep(0.0, 1400.0, height) - 0.12 * smoothstep(1500.0, 3400.0, height);
  }
  if (facing.z > 0.5 || facing.y > 0.5) light *= 1.0 - 0.22 * shadowOfWall(place);
  if (facing.z > 0.5) {  // a plain skirting board along the floor
    const float skirtingMm = 92.0;
    float height = place.y - roomLow.y;
    light *= height < skirtingMm ? 1.06 : 1.0;
    light *= 1.0 - 0.18 * (1.0 - smoothstep(0.0, 5.0, abs(height - skirtingMm)));
  }
  light *= cornersAt(place, facing);
  shown = vec4(srgb(roomColour * light), 1.0);
}

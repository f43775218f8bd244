// Draws copies for the light's maps: shadow.frag and height.frag take the height above the board plane.
uniform mat4 clipFromWall;

out float height;

void main() {
  vec3 place = placedVertex().place;
  height = place.z;
  gl_Position = clipFromWall * vec4(place, 1.0);
}

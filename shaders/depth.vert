uniform mat4 clipFromWall;

// The same place to the last bit, whichever shader draws it.
invariant gl_Position;

out float height;

void main() {
  vec3 place = placedVertex().place;
  height = place.z;
  gl_Position = clipFromWall * vec4(place, 1.0);
}

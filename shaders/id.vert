// Draws copies of blooms with their numbers, for id.frag.
uniform mat4 clipFromWall;

flat out int number;

void main() {
  Placed placed = placedVertex();
  number = placed.number;
  gl_Position = clipFromWall * vec4(placed.place, 1.0);
}

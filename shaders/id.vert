uniform mat4 clipFromWall;

flat out int number;

void main() {
  Placed placed = placedVertex();
  number = placed.number;
  gl_Position = clipFromWall * vec4(placed.place, 1.0);
}

// Draws copies for paper.frag.
uniform mat4 clipFromWall;

out vec3 place;
out vec3 normal;
out vec3 colour;
out float tint;
flat out int number;

void main() {
  Placed placed = placedVertex();
  place = placed.place;
  normal = placed.normal;
  colour = placed.colour;
  tint = meshTint;
  number = placed.number;
  gl_Position = clipFromWall * vec4(place, 1.0);
}

// Covers the whole picture with a triangle, at the farthest depth: for room.frag, lens_blur.frag and the light's
// maps.
out vec2 at;  // -1 to 1

void main() {
  at = vec2(gl_VertexID == 1 ? 3.0 : -1.0, gl_VertexID == 2 ? 3.0 : -1.0);
  gl_Position = vec4(at, 1.0, 1.0);
}

// Covers a rectangle of the board plane with two triangles: for heat.frag and board_plane_id.frag.
uniform mat4 clipFromWall;
uniform vec4 frame;  // left, lower, right, upper, mm

out vec2 place;

void main() {
  vec2 corner = vec2(gl_VertexID & 1, gl_VertexID >> 1);
  place = mix(frame.xy, frame.zw, corner);
  gl_Position = clipFromWall * vec4(place, 0.0, 1.0);
}

// Draws a piece of a line on the board plane, with the same width in pixels everywhere (WallMarks).
uniform mat4 clipFromWall;
uniform vec2 picture;    // px
uniform float widthPx;

layout(location = 0) in vec4 ends;      // from, to, mm
layout(location = 1) in vec3 corner;    // -1 or 1 across; 0 or 1 along; the piece's start along the line, mm
layout(location = 2) in uint style;     // 0 solid, 1 dashed, 2 dotted; + 4: chosen

const float chosenWidth = 1.7;  // of a chosen line, as a share of the others'
const float softEdgesPx = 1.5;

out float along_mm;
out float aside_px;
flat out float half_px;
flat out uint line;

void main() {
  vec4 from = clipFromWall * vec4(ends.xy, 0.0, 1.0);
  vec4 to = clipFromWall * vec4(ends.zw, 0.0, 1.0);
  line = style;
  along_mm = corner.z + corner.y * distance(ends.xy, ends.zw);
  aside_px = 0.0;
  half_px = 0.0;
  if (from.w <= 0.0 || to.w <= 0.0) {
    gl_Position = vec4(2.0, 2.0, 2.0, 1.0);
    return;
  }
  vec2 piece = (to.xy / to.w - from.xy / from.w) * picture;
  vec2 forward = length(piece) > 1e-4 ? normalize(piece) : vec2(1.0, 0.0);
  float width = widthPx * ((style & 4u) != 0u ? chosenWidth : 1.0);
  half_px = 0.5 * width;
  width += softEdgesPx;
  aside_px = 0.5 * width * corner.x;
  vec2 aside = vec2(-forward.y, forward.x) * corner.x + forward * (2.0 * corner.y - 1.0) * 0.5;
  vec4 end = corner.y < 0.5 ? from : to;
  gl_Position = end + vec4(aside * width / picture * end.w, 0.0, 0.0);
}

// Draws a piece of a line of mark.vert: its dashes or dots, with soft edges.
uniform vec4 ink;
uniform vec4 chosenInk;
uniform float dashMm;
uniform int halo;

const float dashShare = 0.62;    // of a dash with its gap that is drawn
const float dotLength = 0.42;    // of a dot with its gap, as a share of a dash's
const float dotShare = 0.45;     // of a dot with its gap that is drawn

in float along_mm;
in float aside_px;
flat in float half_px;
flat in uint line;

layout(location = 0) out vec4 shown;

void main() {
  uint kind = line & 3u;
  float phase = fract(along_mm / dashMm);
  float phase_of_dots = fract(along_mm / (dotLength * dashMm));
  if (halo == 0 && kind == 1u && phase > dashShare) discard;
  if (halo == 0 && kind == 2u && phase_of_dots > dotShare) discard;
  shown = (line & 4u) != 0u ? chosenInk : ink;
  shown.a *= clamp(half_px + 0.5 - abs(aside_px), 0.0, 1.0);
}

uniform vec4 ink;
uniform vec4 chosenInk;
uniform float dashMm;
uniform int halo;

in float along_mm;
in float aside_px;
flat in float half_px;
flat in uint line;

layout(location = 0) out vec4 shown;

void main() {
  uint kind = line & 3u;
  float phase = fract(along_mm / dashMm);
  float phase_of_dots = fract(along_mm / (0.42 * dashMm));
  if (halo == 0 && kind == 1u && phase > 0.62) discard;
  if (halo == 0 && kind == 2u && phase_of_dots > 0.45) discard;
  shown = (line & 4u) != 0u ? chosenInk : ink;
  shown.a *= clamp(half_px + 0.5 - abs(aside_px), 0.0, 1.0);
}

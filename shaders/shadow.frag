// Heights from -1 to 1: the mean, kept as 0 to 1, and the mean square.
uniform vec2 shadowHeights;  // mm to these: factor, then added

in float height;

layout(location = 0) out vec2 shown;

void main() {
  float met = height * shadowHeights.x + shadowHeights.y;
  shown = vec2(0.5 + 0.5 * met, met * met);
}

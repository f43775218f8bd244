// Writes the shadow map: heights converted to -1 to 1, kept as 0 to 1, and their squares, which averaging turns into
// means.
uniform vec2 shadowHeights;  // factor and summand that convert mm to -1 to 1

in float height;

layout(location = 0) out vec2 shown;

void main() {
  float met = height * shadowHeights.x + shadowHeights.y;
  shown = vec2(0.5 + 0.5 * met, met * met);
}

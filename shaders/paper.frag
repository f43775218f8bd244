// Draws lit paper: blooms, panels, people. Chosen and new blooms are tinted.
uniform vec4 eye;
uniform float thin;          // how much light comes through from behind
uniform float alpha;
uniform float pale;          // 0: its own colour; 1: white paper
uniform vec3 chosenColour;   // sRGB
uniform vec3 newColour;      // sRGB
uniform usamplerBuffer signs;  // for each copy, where hasSigns: 1 chosen, 2 new
uniform int hasSigns;

// Set by eye.
const float darkestTint = 0.8;  // of the mesh's tint 0, deep in a bloom
const vec3 whitePaper = vec3(0.97, 0.955, 0.93);
const vec3 brightness = vec3(0.3, 0.6, 0.1);  // weights of red, green and blue
const float chosenShare = 0.18;

in vec3 place;
in vec3 normal;
in vec3 colour;
in float tint;
flat in int number;

layout(location = 0) out vec4 shown;

void main() {
  vec3 towardsEye = eye.w > 0.0 ? eye.xyz - place : eye.xyz;
  vec3 facing = normalize(normal);
  if (dot(facing, towardsEye) < 0.0) facing = -facing;
  vec3 paper = colour * mix(darkestTint, 1.0, tint);
  vec3 seen = srgb(min(litPaper(place, facing, paper, thin), vec3(1.0)));
  seen = mix(seen, whitePaper * (0.7 + 0.3 * dot(seen, brightness)), pale);
  uint mark = hasSigns != 0 ? texelFetch(signs, number).r : 0u;
  if ((mark & 1u) != 0u) seen = mix(seen, chosenColour, chosenShare);
  if ((mark & 2u) != 0u) seen = mix(seen, newColour, 0.3 + 0.3 * tint);
  shown = vec4(seen, alpha);
}

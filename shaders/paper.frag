uniform vec4 eye;
uniform float thin;          // how much light comes through
uniform float alpha;
uniform float pale;          // 0: as it is; 1: white paper
uniform vec3 chosenColour;   // sRGB
uniform vec3 newColour;      // sRGB
uniform usamplerBuffer signs;  // one a copy: 1 chosen, 2 new; where `signed`
uniform int hasSigns;

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
  vec3 paper = colour * mix(0.8, 1.0, tint);
  vec3 seen = srgb(min(litPaper(place, facing, paper, thin), vec3(1.0)));
  seen = mix(seen, vec3(0.97, 0.955, 0.93) * (0.7 + 0.3 * dot(seen, vec3(0.3, 0.6, 0.1))), pale);
  uint mark = hasSigns != 0 ? texelFetch(signs, number).r : 0u;
  if ((mark & 1u) != 0u) seen = mix(seen, chosenColour, 0.18);
  if ((mark & 2u) != 0u) seen = mix(seen, newColour, 0.3 + 0.3 * tint);
  shown = vec4(seen, alpha);
}

// Places a vertex of a copy in the wall frame: vertex shaders of InstancedMeshes begin with this file and call
// placedVertex().
uniform samplerBuffer copies;  // four texels for each copy: the rows of wallFromMesh, linear colour with number
uniform int copyShift;         // added to the mesh's first copy

layout(location = 0) in vec3 meshPlace;
layout(location = 1) in vec4 meshNormal;
layout(location = 2) in float meshTint;
layout(location = 3) in int firstCopy;  // of the mesh

struct Placed {
  vec3 place;
  vec3 normal;
  vec3 colour;
  int number;
};

Placed placedVertex() {
  const int texels = 4;
  int at = texels * (firstCopy + copyShift + gl_InstanceID);
  vec4 x = texelFetch(copies, at);
  vec4 y = texelFetch(copies, at + 1);
  vec4 z = texelFetch(copies, at + 2);
  vec4 look = texelFetch(copies, at + 3);
  vec4 from = vec4(meshPlace, 1.0);
  Placed placed;
  placed.place = vec3(dot(x, from), dot(y, from), dot(z, from));
  // Correct for rotations, and for boxes of panels, whose sides stay upright when they are stretched.
  placed.normal = vec3(dot(x.xyz, meshNormal.xyz), dot(y.xyz, meshNormal.xyz), dot(z.xyz, meshNormal.xyz));
  placed.colour = look.rgb;
  placed.number = int(look.a + 0.5);
  return placed;
}

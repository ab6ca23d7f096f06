//VTK::ValuePass::Dec
in vec3 lightVS; in vec3 placeVS; in vec3 facingVS; in vec4 seesVS; in float sunnyVS;
// Light from sRGB codes by a cubic, off by five codes in the darkest and by less than two from code 40 on.
// Source: I. Taylor, sRGB approximations for HLSL, from memory; the error is our own reckoning.
vec3 linear(vec3 c) { return c * (c * (c * 0.305306011 + 0.682171111) + 0.012522878); }
// Boards are seen at a slant: pictures are laid over each other, so each may be sharper along the slant than it should,
// and grain stays crisp. The library's own way of doing it takes a minute over some triangles where no graphics card
// is (measured with Mesa's software renderer); there a level between two costs as much as all the rest.
vec3 surface(sampler2D image, vec2 at) {
  vec2 size = vec2(textureSize(image, 0));
  float a = length(dFdx(at) * size), d = length(dFdy(at) * size);
  return textureLod(image, at, floor(log2(max(0.6 * max(min(a, d), max(a, d) / 3.0), 1.0)) + 0.5)).rgb;
}
// Paint has so little figure that one texel will do.
vec3 paint(sampler2D image, vec2 at) {
  return texelFetch(image, ivec2(fract(at) * vec2(textureSize(image, 0))), 0).rgb;
}

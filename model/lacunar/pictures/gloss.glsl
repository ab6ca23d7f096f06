
// One side's part in the light that a matt surface facing z takes from a polygon; corners as directions, over 2 pi.
// Source: S. Hill, E. Heitz, Real-time area lighting, 2016 (a fit to the angle over its sine), from memory.
vec3 side(vec3 a, vec3 b) {
  float x = dot(a, b), y = abs(x);
  float v = (0.8543985 + (0.4965155 + 0.0145206 * y) * y) / (3.4175940 + (4.1616724 + y) * y);
  return cross(a, b) * (x > 0.0 ? v : 0.5 * inversesqrt(max(1.0 - x * x, 1e-7)) - v);
}
// Share of a cosine lobe that a four-sided pane takes; what lies below the surface as a ball's would.
float taken(mat3 to, vec3 a, vec3 b, vec3 c, vec3 d) {
  a = normalize(to * a); b = normalize(to * b); c = normalize(to * c); d = normalize(to * d);
  vec3 f = side(a, b) + side(b, c) + side(c, d) + side(d, a);
  float l = length(f);
  return max((l * l + f.z) / (l + 1.0), 0.0);
}
// Turns the lobe (see gloss.py) that a surface with normal n shows to a viewer along v into that of a matt one.
mat3 unbent(vec3 n, vec3 v, vec3 q) {
  vec3 aside = cross(n, v);
  aside = dot(aside, aside) > 1e-7 ? normalize(aside) : normalize(cross(n, vec3(0.31, 0.95, 0.05)));
  vec3 along = cross(aside, n);
  float s = sin(q.z), c = cos(q.z);
  return transpose(mat3((c * along + s * n) / q.x, aside / q.y, c * n - s * along));
}


// The film's curve: AgX, a published log curve with crosstalk between the colours, so that bright light goes pale and
// not gaudy, and with a soft toe, so that dark wood keeps its grain.
// Source: T. Sobotka, AgX; polynomial and matrices by B. Wrensch, "Minimal AgX implementation".
vec3 film(vec3 c) {
  const mat3 crossed = mat3(0.842479062253094, 0.0423282422610123, 0.0423756549057051,
                            0.0784335999999992, 0.878468636469772, 0.0784336,
                            0.0792237451477643, 0.0791661274605434, 0.879142973793104);
  const mat3 uncrossed = mat3(1.19687900512017, -0.0528968517574562, -0.0529716355144438,
                              -0.0980208811401368, 1.15190312990417, -0.0980434501171241,
                              -0.0990297440797205, -0.0989611768448433, 1.15107367264116);
  vec3 v = clamp(log2(max(crossed * c, vec3(1e-6))), -12.47393, 4.026069);
  v = (v + 12.47393) / 16.5;
  vec3 v2 = v * v, v4 = v2 * v2;
  v = 15.5 * v4 * v2 - 40.14 * v4 * v + 31.96 * v4 - 6.868 * v2 * v + 0.4298 * v2 + 0.1191 * v - 0.00232;
  // To the power of 9/8, a little more contrast than the published curve: square roots are cheap.
  v = max(v, vec3(0.0)) * sqrt(sqrt(sqrt(max(v, vec3(0.0)))));
  return clamp(uncrossed * v, 0.0, 1.0);
}

float bar(float x, float half_width, float soft) {
  return smoothstep(-half_width - soft, -half_width + soft, x) - smoothstep(half_width - soft, half_width + soft, x);
}
// Share of a line from p along d that passes the glass of a window; soft is the blur in metres per metre.
float through(vec3 p, vec3 d, vec3 centre, vec3 right, vec3 inward, vec2 size, float depth, float soft) {
  float towards = -dot(d, inward);
  if (towards < 0.01) return 0.0;
  float ahead = dot(p - centre, inward) / towards;
  if (ahead < 0.0) return 0.0;
  vec3 at = p + ahead * d - centre;
  float blur = max(soft * ahead, 0.002);
  float x = dot(at, right), y = at.z;
  float inside = bar(x, size.x, blur) * bar(y, size.y, blur);
  vec3 inner = at - d * (depth / towards);
  return inside * bar(dot(inner, right), size.x + 0.045, blur) * bar(inner.z, size.y + 0.045, blur);
}

float ripple(float x) {
  return sin(x * 3.1) + 0.6 * sin(x * 7.3 + 1.7) + 0.35 * sin(x * 17.0 + 0.4) + 0.2 * sin(x * 41.0);
}
// What lies beyond the glass: hazy sky, trees far off, a lawn; all of it bright and soft, none of it as green as it is.
vec3 outdoors(vec3 d) {
  float high = d.z / max(length(d.xy), 1e-3);
  float round_ = atan(d.y, d.x);
  vec3 sky = mix(vec3(1.04, 1.06, 1.08), vec3(0.80, 0.92, 1.10), smoothstep(0.0, 0.9, high));
  vec3 trees = mix(vec3(0.25, 0.29, 0.24), vec3(0.52, 0.57, 0.54), smoothstep(-0.03, 0.09, high));
  vec3 lawn = mix(vec3(0.62, 0.66, 0.50), vec3(0.44, 0.49, 0.33), smoothstep(0.0, -0.5, high));
  float edge = 0.036 + 0.012 * ripple(round_ * 2.3);
  vec3 far = mix(trees, sky, smoothstep(edge - 0.008, edge + 0.016, high));
  return mix(lawn, far, smoothstep(-0.022, -0.010, high));
}

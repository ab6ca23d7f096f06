"""The few lines that the graphics library runs for every pixel of a photo-like view.

Light comes with the vertices, baked. Added here is what a vertex cannot hold: the sun's sharp patch, the windows'
reflection in varnish, the view out of the window, and the film's curve.
"""

from lacunar.scene import Appearance, Lights, Scene, WindowLight

VERTEX_DEC = """//VTK::ValuePass::Dec
in vec3 light; in vec3 place; in vec3 facing; in vec2 sees;
out vec3 lightVS; out vec3 placeVS; out vec3 facingVS; out vec2 seesVS;
"""

VERTEX_IMPL = """//VTK::ValuePass::Impl
lightVS = light; placeVS = place; facingVS = facing; seesVS = sees;
"""

# Boards are seen at a slant: two looks along the slant keep the grain crisp. The library's own way of doing it takes
# a minute over some triangles where no graphics card is (measured with Mesa's software renderer).
FRAGMENT_DEC = """//VTK::ValuePass::Dec
in vec3 lightVS; in vec3 placeVS; in vec3 facingVS; in vec2 seesVS;
// Light from sRGB codes by a cubic, off by five codes in the darkest and by less than two from code 40 on.
// Source: I. Taylor, sRGB approximations for HLSL, from memory; the error is our own reckoning.
vec3 linear(vec3 c) { return c * (c * (c * 0.305306011 + 0.682171111) + 0.012522878); }
vec3 surface(sampler2D image, vec2 at) {
  vec2 across = dFdx(at), down = dFdy(at), size = vec2(textureSize(image, 0));
  float a = length(across * size), d = length(down * size);
  vec2 slant = a > d ? across : down;
  float level = log2(max(max(min(a, d), max(a, d) / 3.0), 1.0));
  return 0.5 * (textureLod(image, at - 0.25 * slant, level).rgb + textureLod(image, at + 0.25 * slant, level).rgb);
}
"""

# The film's curve: AgX, a published log curve with crosstalk between the colours, so that bright light goes
# pale and not gaudy. Source: T. Sobotka, AgX; polynomial and matrices by B. Wrensch, "Minimal AgX implementation".
_FILM = """
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
  float grey = dot(v, vec3(0.2126, 0.7152, 0.0722));
  // To the power of 5/4, a little more contrast than the published curve: two square roots are cheaper.
  v = max(v, vec3(0.0)) * sqrt(sqrt(max(v, vec3(0.0))));
  grey = max(grey, 0.0) * sqrt(sqrt(max(grey, 0.0)));
  v = grey + %(saturation).3f * (v - grey);
  return clamp(uncrossed * v, 0.0, 1.0);
}
"""

_WINDOWS = """
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
"""

_OUTDOORS = """
float ripple(float x) {
  return sin(x * 3.1) + 0.6 * sin(x * 7.3 + 1.7) + 0.35 * sin(x * 17.0 + 0.4) + 0.2 * sin(x * 41.0);
}
// What lies beyond the glass: hazy sky, trees far off, a lawn; all of it bright and soft.
vec3 outdoors(vec3 d) {
  float high = d.z / max(length(d.xy), 1e-3);
  float round_ = atan(d.y, d.x);
  vec3 sky = mix(vec3(1.02, 1.05, 1.10), vec3(0.72, 0.88, 1.12), smoothstep(0.0, 0.9, high));
  vec3 trees = mix(vec3(0.20, 0.27, 0.19), vec3(0.34, 0.42, 0.36), smoothstep(-0.03, 0.14, high));
  vec3 lawn = mix(vec3(0.42, 0.50, 0.26), vec3(0.30, 0.38, 0.18), smoothstep(0.0, -0.5, high));
  float edge = 0.060 + 0.018 * ripple(round_ * 2.3);
  vec3 far = mix(trees, sky, smoothstep(edge - 0.02, edge + 0.03, high));
  return mix(lawn, far, smoothstep(-0.035, -0.01, high));
}
"""


def _vec(values: tuple[float, ...]) -> str:
    return f"vec{len(values)}({', '.join(f'{v:.6f}' for v in values)})"


def _call(window: WindowLight, p: str, d: str, soft: str) -> str:
    return (
        f"through({p}, {d}, {_vec(window.centre)}, {_vec(window.right)}, {_vec(window.inward)}, "
        f"{_vec(window.half)}, {window.depth:.4f}, {soft})"
    )


def _bars(window: WindowLight) -> str:
    """The shadow of the glazing bars in the sun, as a factor of `b` at (x, y) on the glass."""
    return (
        " * ".join(
            f"(1.0 - bar(x - ({bx:.4f}), {bw:.4f}, blur) * bar(y - ({by:.4f}), {bh:.4f}, blur))"
            for bx, by, bw, bh in window.bars
        )
        or "1.0"
    )


def _sun(lights: Lights) -> str:
    towards = lights.sun.towards
    body = ""
    for window in lights.windows:
        facing = -sum(a * b for a, b in zip(towards, window.inward, strict=True))
        if facing <= 0.02:
            continue
        body += f"""
  {{ float ahead = dot(p - {_vec(window.centre)}, {_vec(window.inward)}) / {facing:.6f};
    vec3 at = p + ahead * s - {_vec(window.centre)};
    float x = dot(at, {_vec(window.right)}), y = at.z, blur = max(0.006 * ahead, 0.003);
    sun += {_call(window, "p", "s", "0.006")} * {_bars(window)}; }}"""
    return f"float sunlight(vec3 p) {{ vec3 s = {_vec(towards)}; float sun = 0.0;{body}\n  return sun; }}\n"


def _reflection(lights: Lights) -> str:
    body = ""
    for window in lights.windows:
        mean = tuple(0.5 * (a + b) for a, b in zip(window.sky, window.ground, strict=True))
        body += f"\n  glint += {_vec(mean)} * {_call(window, 'p', 'r', 'soft')};"
    return f"vec3 windows(vec3 p, vec3 r, float soft) {{ vec3 glint = vec3(0.0);{body}\n  return glint; }}\n"


def _albedo(material: Appearance) -> str:
    """Code for a surface's own colour: boards are looked at with care, paint once, an even colour not at all."""
    if material.size[0]:
        return "linear(surface(actortexture, tcoordVCVSOutput.st))"
    if material.albedo.shape[:2] == (1, 1):
        return _vec(material.mean)
    return "linear(texture(actortexture, tcoordVCVSOutput.st).rgb)"


def fragment(scene: Scene, material: Appearance) -> tuple[str, str]:
    """Declarations and body of the fragment code for one material."""
    film = _FILM % {"saturation": 1.08}
    dec = FRAGMENT_DEC + film + _WINDOWS + _OUTDOORS + _sun(scene.lights) + _reflection(scene.lights)
    sun = scene.lights.sun
    if material.pane:
        body = "vec3 c = 5.0 * outdoors(normalize(placeVS - eye));\n"
        # Outdoors is as bright as film lets it be without going white.
        tail = "fragOutput0 = vec4(film(c), 1.0);\n"
        return dec, body + tail
    body = f"""
vec3 albedo = {_albedo(material)};
vec3 n = normalize(facingVS), v = normalize(eye - placeVS);
float patch = max(dot(n, {_vec(sun.towards)}), 0.0) * seesVS.y;
if (patch > 0.0) patch *= sunlight(placeVS);
vec3 e = max(lightVS, vec3(0.0)) + patch * {_vec(sun.power)};
vec3 c = albedo * e + {_vec(material.glow)} * (0.5 + 0.5 * clamp(dot(n, v), 0.0, 1.0));
"""
    if material.shine > 0:
        body += f"""
float cosine = clamp(dot(n, v), 0.0, 1.0);
float fresnel = min(0.04 + 0.96 * pow(1.0 - cosine, 5.0), 0.34);
float uneven = 0.75 + 0.5 * albedo.g / (albedo.g + {material.mean[1]:.4f});
vec3 glint = vec3(0.0);
float free = smoothstep(0.0, 0.5, seesVS.x);
if (free > 0.0) glint = free * windows(placeVS, reflect(-v, n), {0.9 * material.rough:.4f});
c += {material.shine:.4f} * fresnel * uneven * (glint * {1.0 - 0.55 * material.rough:.4f} + 0.5 * lightVS);
"""
    return dec, body + f"fragOutput0 = vec4(film(c * {_vec(scene.exposure)}), 1.0);\n"


def neutral(
    tint: tuple[float, float, float] = (1.0, 1.0, 1.0), *, textured: float = 1.0, alpha: float = 1.0, lit: bool = False
) -> tuple[str, str]:
    """Even light for technical views; the film's curve is left out.

    Args:
        tint: colour that the texture is mixed with, sRGB 0 to 1.
        textured: share of the texture in that mix.
        alpha: how solid the surface is.
        lit: light comes with the vertices; else from three soft lamps that know no room.
    """
    key, rim = "dot(n, normalize(vec3(-0.35, -0.45, -0.6)))", "dot(n, normalize(vec3(0.8, -0.2, 0.1)))"
    shade = "lightVS.x * 2.0" if lit else f"1.25 * max(0.62 + 0.30 * {key} + 0.16 * {rim}, 0.12)"
    body = f"""
vec3 n = normalize(facingVS);
vec3 albedo = pow(mix({_vec(tint)}, surface(actortexture, tcoordVCVSOutput.st), {textured:.3f}), vec3(2.2));
vec3 c = albedo * {shade};
c = pow(c / (1.0 + 0.25 * c), vec3(1.0 / 2.2));
fragOutput0 = vec4(clamp(c, 0.0, 1.0), {alpha:.3f});
"""
    return FRAGMENT_DEC, body

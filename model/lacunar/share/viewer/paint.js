// Surfaces: light that comes with the vertices, and at least an even one for a ceiling that is taken apart.

const VERTEX = `
precision highp float; precision highp int; precision highp sampler2D;
in vec4 place; in vec4 facing; in vec2 grain;
uniform vec3 low, size; uniform vec2 imageLow, imageSize;
uniform mat4 viewMatrix, projectionMatrix; uniform float drop;
#ifdef SHARED
in vec4 rowX, rowY, rowZ, turned; in float body;
uniform sampler2D lights; uniform int firstLight, vertices;
#else
in vec3 light;
#endif
out vec3 lightVS, facingVS, placeVS; out vec2 grainVS; flat out float bodyVS;
void main() {
  vec3 at = low + size * place.xyz / 65535.0;
  vec2 uv = imageLow + imageSize * grain / 65535.0;
  vec3 n = facing.xyz;
#ifdef SHARED
  at = vec3(dot(rowX, vec4(at, 1.0)), dot(rowY, vec4(at, 1.0)), dot(rowZ, vec4(at, 1.0)));
  n = vec3(dot(rowX.xyz, n), dot(rowY.xyz, n), n.z);
  if (place.w < 0.5) uv = turned.xz * uv + turned.yw;
  int texel = firstLight + gl_InstanceID * vertices + gl_VertexID, wide = textureSize(lights, 0).x;
  lightVS = texelFetch(lights, ivec2(texel % wide, texel / wide), 0).rgb;
  bodyVS = body;
#else
  lightVS = light;
  bodyVS = place.w;
#endif
  facingVS = n; grainVS = uv; placeVS = at;
  gl_Position = projectionMatrix * viewMatrix * vec4(at.xy, at.z - drop, 1.0);
}`;

const FRAGMENT = `
uniform sampler2D image; uniform vec3 eye, pane, mark; uniform float even, chosen, brightest;
out vec4 colour;
void main() {
  if (pane.x > 0.0) { colour = vec4(film(pane * outdoors(normalize(placeVS - eye))), 1.0); return; }
  vec3 n = normalize(facingVS), light = lightVS * lightVS * brightest;
  // What lies on one another is dark between; taken apart, such faces have a little light of their own.
  float shade = 0.62 + 0.30 * dot(n, normalize(vec3(-0.35, -0.45, -0.6))) + 0.16 * dot(n, normalize(vec3(0.8, -0.2, 0.1)));
  vec3 seen = film(linear(surface(image, grainVS)) * max(light, vec3(even * max(shade, 0.12))));
  if (abs(bodyVS - chosen) < 0.5) seen = mix(seen, mark, 0.5);
  colour = vec4(seen, 1.0);
}`;

const FRAGMENT_HEAD = `
precision highp float; precision highp int; precision highp sampler2D;
in vec3 lightVS, facingVS, placeVS; in vec2 grainVS; flat in float bodyVS;
`;

/** Pictures, each loaded when it is first used; `changed` is called when one is there. */
class Pictures {
  constructor(addresses, changed) {
    this.addresses = addresses;
    this.changed = changed;
    this.known = new Map();
    this.waiting = 0;
  }

  of(surface) {
    const key = surface.picture ?? String(surface.colour);
    if (!this.known.has(key)) this.known.set(key, surface.picture === undefined ? even(surface.colour) : this.loaded(key));
    return this.known.get(key);
  }

  loaded(number) {
    const texture = repeated(new THREE.Texture());
    const image = new Image();
    this.waiting++;
    image.onload = () => {
      this.waiting--;
      texture.image = image;
      texture.needsUpdate = true;
      this.changed();
    };
    image.src = this.addresses[number];
    return texture;
  }
}

function repeated(texture) {
  texture.wrapS = texture.wrapT = THREE.RepeatWrapping;
  texture.flipY = false;
  texture.generateMipmaps = true;
  texture.minFilter = THREE.LinearMipmapLinearFilter;
  texture.magFilter = THREE.LinearFilter;
  return texture;
}

function even(codes = [0, 0, 0]) {
  const texture = repeated(new THREE.DataTexture(new Uint8Array([...codes, 255]), 1, 1));
  texture.needsUpdate = true;
  return texture;
}

/** The material of one mesh. `common` has the uniforms that all meshes share. */
function painted(mesh, surface, data, common, pictures, own) {
  const [low, size] = mesh.box, [imageLow, imageSize] = mesh.image;
  return new THREE.RawShaderMaterial({
    glslVersion: THREE.GLSL3,
    defines: mesh.bodies ? { SHARED: 1 } : {},
    vertexShader: VERTEX,
    fragmentShader: FRAGMENT_HEAD + data.shading + FRAGMENT,
    uniforms: {
      ...common,
      low: { value: new THREE.Vector3(...low) },
      size: { value: new THREE.Vector3(...size) },
      imageLow: { value: new THREE.Vector2(...imageLow) },
      imageSize: { value: new THREE.Vector2(...imageSize) },
      pane: { value: new THREE.Vector3(...(surface.pane ?? [0, 0, 0])) },
      image: { value: pictures.of(surface) },
      ...own,
    },
  });
}

/** Whether a graphics card draws; where none does, smoothing edges takes three times as long as all the rest. */
function hasCard() {
  const probe = document.createElement("canvas").getContext("webgl2");
  if (!probe) return false;
  const plain = probe.getParameter(probe.RENDERER);
  const more = /webkit/i.test(plain) && probe.getExtension("WEBGL_debug_renderer_info");
  const name = more ? probe.getParameter(more.UNMASKED_RENDERER_WEBGL) : plain;
  probe.getExtension("WEBGL_lose_context")?.loseContext();
  return !/swiftshader|llvmpipe|softpipe|software|basic render/i.test(name);
}

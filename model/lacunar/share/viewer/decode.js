// Reads what share/packed.py and share/meshes.py have packed, in the same order.

const STEPS = 65535;

/** The bytes of a deflated text in base 64. */
async function unpacked(text) {
  const bytes = Uint8Array.from(atob(text), (sign) => sign.charCodeAt(0));
  const stream = new Blob([bytes]).stream().pipeThrough(new DecompressionStream("deflate"));
  return new Uint8Array(await new Response(stream).arrayBuffer());
}

/** Takes arrays one after the other; each number's bytes lie apart, all first ones before all second ones. */
class Reader {
  constructor(bytes) {
    this.bytes = bytes;
    this.at = 0;
  }

  take(Kind, n) {
    const width = Kind.BYTES_PER_ELEMENT, whole = new Uint8Array(n * width);
    for (let plane = 0; plane < width; plane++) {
      const from = this.at + plane * n;
      for (let i = 0; i < n; i++) whole[i * width + plane] = this.bytes[from + i];
    }
    this.at += n * width;
    this.at += (4 - (this.at % 4)) % 4;
    return new Kind(whole.buffer);
  }
}

/** One design with its arrays beside what was told of it. */
async function decoded(choice) {
  const reader = new Reader(await unpacked(choice.data));
  const meshes = choice.meshes.map((one) => {
    const copies = one.bodies ? one.bodies.length : 1;
    return {
      ...one,
      copies,
      place: reader.take(Uint16Array, 4 * one.n),
      facing: reader.take(Int8Array, 4 * one.n),
      grain: reader.take(Uint16Array, 2 * one.n),
      faces: reader.take(one.bodies ? Uint16Array : Uint32Array, 3 * one.m),
      rows: one.bodies && reader.take(Float32Array, 12 * copies),
      turned: one.bodies && reader.take(Float32Array, 4 * copies),
      light: reader.take(Uint8Array, 3 * one.n * copies),
    };
  });
  const ends = 2 * choice.edges.of.reduce((sum, n) => sum + n, 0);
  return { ...choice, meshes, edgePlaces: inBox(reader.take(Uint16Array, 3 * ends), choice.edges.box, 3) };
}

/** Whole steps as numbers: metres, or shares of an image. */
function inBox(steps, [low, size], columns) {
  const out = new Float32Array(steps.length);
  for (let i = 0; i < steps.length; i++) out[i] = low[i % columns] + (steps[i] / STEPS) * size[i % columns];
  return out;
}

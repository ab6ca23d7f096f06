// The figure: waits until the page is painted, builds what is looked at, draws only when something changes.

const ASK = "Tap a piece to see its size and price.";
const REACH = 16; // pixels within which a corner is meant
const FINEST = 2; // pixels to one of the page, across: at rest, and while moving where the machine is quick
const SLOW = 70, QUICK = 20; // ms a frame, from and to which pixels grow and shrink while something moves

class Figure {
  constructor(root) {
    this.root = root;
    this.find = (name) => root.querySelector(`.figure-${name}`);
    this.canvas = root.querySelector("canvas");
    this.note = this.find("note");
    this.status = this.find("status");
    this.models = new Map();
    this.chosen = null;
    this.points = null;
    this.apart = 0;
    this.fine = Math.min(devicePixelRatio, FINEST);
  }

  async start() {
    const data = (this.data = JSON.parse(this.root.querySelector("#figure-data").textContent));
    this.list = new PartList(this.root.querySelector(".figure-list"), (name) => {
      this.choose(name);
      // On a phone the list lies below the picture.
      this.canvas.scrollIntoView({ block: "nearest" });
    });
    this.context();
    this.pictures = new Pictures(data.pictures, () => this.draw());
    this.common = {
      eye: { value: new THREE.Vector3() },
      mark: { value: new THREE.Vector3(0.86, 0.36, 0.12) },
      chosen: { value: -1 },
      brightest: { value: data.brightest },
    };
    this.scene = new THREE.Scene();
    await this.use(0);
    this.eye = new Eye(data, this.model);
    // A page that is watched comes anew with each change of the file, seen from the same place.
    this.isWatched = "number" in document.body.dataset;
    const kept = this.isWatched && sessionStorage.getItem("eye");
    if (kept) this.eye.kept = JSON.parse(kept);
    this.controls();
    this.moving();
    this.note.hidden = true;
    this.say(ASK);
    this.find("tools").hidden = false;
    new ResizeObserver(() => this.draw()).observe(this.canvas);
  }

  /** Throws where the browser cannot draw. */
  context() {
    const options = { antialias: hasCard(), alpha: true, powerPreference: "high-performance" };
    const context = this.canvas.getContext("webgl2", options);
    if (!context || typeof DecompressionStream === "undefined") throw new Error("no WebGL");
    this.renderer = new THREE.WebGLRenderer({ canvas: this.canvas, context, ...options });
    this.renderer.setClearColor(0, 0);
    this.canvas.addEventListener("webglcontextlost", () => this.fail("The browser has taken the figure's drawing away. Open the page again."));
  }

  fail(text) {
    this.note.textContent = text;
    this.note.hidden = false;
    this.root.classList.remove("live");
    this.find("tools").hidden = true;
  }

  async use(number) {
    if (!this.models.has(number)) {
      const choice = await decoded(this.data.choices[number]);
      this.models.set(number, new Model(choice, this.data, this.pictures, this.common));
    }
    const model = this.models.get(number), name = this.model?.choice.names[this.chosen];
    if (this.model) {
      model.shown = this.model.shown;
      this.scene.remove(this.model.root);
      this.points = this.points && [];
      this.list.use(number);
    }
    this.model = model;
    this.number = number;
    this.scene.add(model.root);
    this.offer();
    if (name && model.choice.names.includes(name) && this.list.rowOf(name)) this.choose(name);
    else this.letGo();
    this.draw();
  }

  draw() {
    this.wanted ??= requestAnimationFrame((now) => {
      this.wanted = null;
      this.paint(now);
    });
  }

  paint(now) {
    const { canvas, renderer, eye, model } = this, width = canvas.clientWidth, height = canvas.clientHeight;
    if (!width || !height || !eye) return;
    const took = now - this.last;
    if (this.isMoving && took > SLOW && took < 1000) this.fine = Math.max(0.5, this.fine * 0.8);
    else if (this.isMoving && took < QUICK) this.fine = Math.min(FINEST, this.fine * 1.2);
    this.last = now;
    const ratio = this.isMoving ? this.fine : FINEST;
    if (renderer.getPixelRatio() !== ratio) renderer.setPixelRatio(ratio);
    if (this.size !== `${width} ${height}`) renderer.setSize(width, height, false);
    this.size = `${width} ${height}`;
    eye.aim(width, height);
    this.common.eye.value.copy(eye.camera.position);
    model.dress(eye.camera.position, this.apart);
    this.common.chosen.value = this.chosen ?? -1;
    renderer.render(this.scene, eye.camera);
    const seen = new THREE.Matrix4().multiplyMatrices(eye.camera.projectionMatrix, eye.camera.matrixWorldInverse);
    canvas.dataset.view = JSON.stringify({ eye: eye.at.toArray(), matrix: seen.elements, width, height, design: this.number });
    canvas.dataset.frames = Number(canvas.dataset.frames ?? 0) + 1;
    if (this.isWatched) sessionStorage.setItem("eye", JSON.stringify(eye.kept));
    if (!this.pictures.waiting) canvas.dataset.ready = "true";
  }

  /** Something moves: drawn coarser where the machine is slow, and once more finely when it rests. */
  moving() {
    this.isMoving = true;
    clearTimeout(this.rest);
    this.rest = setTimeout(() => {
      this.isMoving = false;
      this.draw();
    }, 180);
    this.draw();
  }

  say(text) {
    this.status.textContent = text;
  }

  /** A piece by its name, from the list or from the picture. */
  choose(name) {
    this.say(this.list.show(name));
    if (!this.model) return;
    this.chosen = this.model.choice.names.indexOf(name);
    this.mark();
  }

  letGo() {
    this.chosen = null;
    this.list.show(null);
    if (this.points) this.measure(true);
    else this.say(ASK);
    this.mark();
  }

  mark() {
    this.model.choose(this.chosen, 0xdb5c1f);
    this.showPoints();
    this.draw();
  }

  toScreen(point) {
    const at = point.clone().project(this.eye.camera);
    return { x: ((at.x + 1) / 2) * this.canvas.clientWidth, y: ((1 - at.y) / 2) * this.canvas.clientHeight };
  }

  hit(place) {
    const { clientWidth, clientHeight } = this.canvas, { camera } = this.eye;
    this.eye.aim(clientWidth, clientHeight);
    const spot = { x: (2 * place.x) / clientWidth - 1, y: 1 - (2 * place.y) / clientHeight };
    const rays = new THREE.Raycaster();
    rays.setFromCamera(spot, camera);
    return firstHit(this.model, rays.ray, camera.position);
  }

  tap(place) {
    const hit = this.hit(place);
    if (this.points) return this.point(hit, place);
    const name = hit && this.model.choice.names[hit.body];
    if (name && this.list.rowOf(name)) this.choose(name);
    else {
      this.letGo();
      if (name) this.say(`${name}.`);
    }
  }

  measure(on) {
    this.points = on ? [] : null;
    this.find("measure").setAttribute("aria-pressed", String(on));
    this.canvas.classList.toggle("measuring", on);
    this.say(on ? "Tap two points; near a corner of a piece the corner is taken." : ASK);
    this.mark();
  }

  point(hit, place) {
    if (!hit) return;
    if (this.points.length === 2) this.points = [];
    const corner = cornerNear(this.model, hit.body, place, this, REACH);
    this.points.push({ at: corner ?? hit.point, body: hit.body, isCorner: Boolean(corner) });
    const [first, second] = this.points;
    const called = ({ body, isCorner }) => `${isCorner ? "a corner of " : ""}${this.model.choice.names[body]}`;
    if (!second) this.say(`From ${called(first)}. Tap the second point.`);
    else {
      const by = second.at.clone().sub(first.at), told = (metres) => lengthText(1000 * metres, this.data.tape);
      const level = Math.hypot(by.x, by.y);
      const ways = `${told(level)} level, ${told(Math.abs(by.z))} plumb`;
      this.say(`About ${told(by.length())} from ${called(first)} to ${called(second)} (${ways}), as it will hang.`);
    }
    this.mark();
  }

  /** The points that are measured between, and the line between them, over everything. */
  showPoints() {
    if (this.ruler) {
      this.scene.remove(this.ruler);
      this.ruler.children.forEach((one) => one.geometry.dispose());
    }
    const places = (this.points ?? []).map(({ at, body }) => {
      const drop = this.model.drops[this.model.choice.groups[body]].value;
      return at.clone().setZ(at.z - drop);
    });
    this.ruler = new THREE.Group();
    if (places.length) {
      const geometry = new THREE.BufferGeometry().setFromPoints(places), look = { color: 0xdb5c1f, depthTest: false };
      this.ruler.add(new THREE.Points(geometry, new THREE.PointsMaterial({ ...look, size: 9, sizeAttenuation: false })));
      this.ruler.add(new THREE.Line(geometry, new THREE.LineBasicMaterial(look)));
      this.ruler.children.forEach((one) => ((one.renderOrder = 3), (one.frustumCulled = false)));
    }
    this.scene.add(this.ruler);
  }

  controls() {
    const { eye } = this;
    handled(this.canvas, {
      turn: (across, up) => (eye.turn(1.6 * across, 1.6 * up), this.moving()),
      pan: (across, up) => (eye.pan(across, up), this.moving()),
      zoom: (factor) => (eye.zoom(factor), this.moving()),
      tap: (place) => this.tap(place),
      letGo: () => this.letGo(),
    });
    const switches = this.find("switches");
    this.boxes = [];
    for (const group of new Set(this.data.choices.flatMap((choice) => choice.switches).sort())) {
      const label = document.createElement("label"), box = document.createElement("input");
      Object.assign(box, { type: "checkbox", checked: true, value: group });
      this.boxes.push(box);
      box.addEventListener("change", () => {
        this.model.shown[group] = box.checked;
        this.draw();
      });
      label.append(box, ` ${this.data.groups[group].name}`);
      switches.append(label);
    }
    this.offer();
    const slider = this.find("apart");
    slider.addEventListener("input", () => {
      if (this.apart === 0 && eye.stands) eye.go("outside");
      this.apart = slider.value / 100;
      this.model.dress(eye.at, this.apart);
      this.mark();
      this.moving();
    });
    this.find("places").addEventListener("click", (event) => {
      if (!event.target.dataset.place) return;
      eye.go(event.target.dataset.place);
      this.draw();
    });
    this.find("measure").addEventListener("click", () => this.measure(!this.points));
    this.find("reset").addEventListener("click", () => this.reset());
    this.find("choices").addEventListener("change", (event) => this.use(Number(event.target.value)));
  }

  /** Only what this design has can be switched. */
  offer() {
    for (const box of this.boxes ?? []) box.disabled = !this.model.choice.switches.includes(Number(box.value));
  }

  reset() {
    this.eye.go("door");
    this.apart = 0;
    this.find("apart").value = 0;
    this.model.shown.fill(true);
    for (const box of this.boxes) box.checked = true;
    this.measure(false);
    this.letGo();
  }
}

const root = document.getElementById("figure");
root.classList.add("live");

function begin() {
  const figure = new Figure(root);
  figure.start().catch(() => figure.fail("This browser draws no 3D figure (it has no WebGL 2). Pictures, text and the list of pieces serve without."));
}

// What people read and see comes first: the figure waits until the page is painted.
addEventListener("load", () => requestAnimationFrame(() => setTimeout(begin, 0)));

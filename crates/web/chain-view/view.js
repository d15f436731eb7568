// The chain in three dimensions: rings as instanced tori, lit by a picture of a sphere of their metal,
// drawn again only when something has changed.
import {
  Color, DataTexture, Group, InstancedMesh, Matrix4, MeshBasicMaterial, MeshMatcapMaterial,
  OrthographicCamera, Quaternion, RGBAFormat, Scene, SphereGeometry, SRGBColorSpace, TorusGeometry,
  Vector3, WebGLRenderer,
} from "three";

const AXIS = new Vector3(0, 0, 1);
const RIGHT = new Vector3(1, 0, 0);
const UP = new Vector3(0, 1, 0);
// Share of the window that a chain fills at first, and within which it is left alone as it changes.
const FILLS = 0.9;
const LEFT_ALONE = [0.4, 1.0];
const NEAREST = 12;
const FURTHEST = 0.25;
// Pixels along the lower edge that are the ruler's.
const FOOT = 40;
// Time constant of a turn that is shown, and the rate of turning by itself.
const EASE_MS = 90;
const ROUND_MS = 14000;

// A sphere of the metal as the eye sees it, from its three colours; each point stands for the
// direction a surface looks in.
function sphere(colours) {
  const [dark, plain, light] = colours.map((text) => new Color(text));
  const size = 128;
  const data = new Uint8Array(4 * size * size);
  const mix = new Color();
  const smooth = (low, high, x) => {
    const t = Math.min(1, Math.max(0, (x - low) / (high - low)));
    return t * t * (3 - 2 * t);
  };
  for (let row = 0; row < size; row += 1) {
    for (let column = 0; column < size; column += 1) {
      let x = (2 * (column + 0.5)) / size - 1;
      let y = (2 * (row + 0.5)) / size - 1;
      const out = Math.hypot(x, y);
      if (out > 0.99) { x *= 0.99 / out; y *= 0.99 / out; }
      const z = Math.sqrt(1 - x * x - y * y);
      // A bright window above to the left, a floor that throws some light back, a dark rim.
      const facing = -0.45 * x + 0.62 * y + 0.64 * z;
      mix.copy(dark).lerp(plain, smooth(-0.35, 0.62, facing));
      mix.lerp(light, 0.95 * smooth(0.78, 0.97, facing));
      mix.lerp(plain, 0.4 * smooth(0.5, 0.9, 0.3 * x - 0.9 * y));
      mix.lerp(dark, 0.75 * smooth(0.42, 0.12, z));
      const at = 4 * (row * size + column);
      mix.convertLinearToSRGB();
      data[at] = 255 * mix.r;
      data[at + 1] = 255 * mix.g;
      data[at + 2] = 255 * mix.b;
      data[at + 3] = 255;
    }
  }
  const texture = new DataTexture(data, size, size, RGBAFormat);
  texture.colorSpace = SRGBColorSpace;
  texture.needsUpdate = true;
  return texture;
}

// Shows chains in `place`; null where the browser cannot. `told` hears how many pixels a millimetre
// takes, `lost` that the picture is gone.
export function chainView(place, { still, told, lost }) {
  let renderer;
  try {
    renderer = new WebGLRenderer({ antialias: true, alpha: true });
  } catch {
    return null;
  }
  renderer.setPixelRatio(Math.min(2, window.devicePixelRatio || 1));
  const canvas = renderer.domElement;
  canvas.setAttribute("aria-hidden", "true");
  place.prepend(canvas);

  const scene = new Scene();
  const turned = new Group();
  scene.add(turned);
  const camera = new OrthographicCamera(-1, 1, 1, -1, -1, 1);
  const metal = new MeshMatcapMaterial();
  const marks = new MeshBasicMaterial({ depthTest: false, transparent: true, opacity: 0.9 });

  let shown = null;
  let meshes = [];
  let contacts = null;
  let contactsWanted = false;
  let pixelsPerMm = 0;
  let zoom = 1;
  let facing = new Quaternion();
  let turnsByItself = false;
  let asked = 0;
  let before = 0;
  let drawn = 0;

  const wantsStill = () => still.matches;
  const size = () => [Math.max(1, place.clientWidth), Math.max(1, place.clientHeight)];

  function draw(now) {
    asked = 0;
    const passed = Math.min(100, before ? now - before : 16);
    let again = false;
    if (turnsByItself && !wantsStill()) {
      facing.premultiply(new Quaternion().setFromAxisAngle(RIGHT, (2 * Math.PI * passed) / ROUND_MS)).normalize();
      again = true;
    }
    const left = turned.quaternion.angleTo(facing);
    if (left > 1e-3 && !wantsStill() && !turnsByItself) {
      turned.quaternion.slerp(facing, 1 - Math.exp(-passed / EASE_MS));
      again = true;
    } else {
      turned.quaternion.copy(facing);
    }
    before = again ? now : 0;
    const [width, height] = size();
    const perMm = pixelsPerMm * zoom;
    camera.left = -width / 2 / perMm;
    camera.right = -camera.left;
    camera.top = (height - FOOT) / 2 / perMm;
    camera.bottom = -(height + FOOT) / 2 / perMm;
    // From far away, so that light falls on all rings alike.
    const deep = shown ? shown.reach : 1;
    camera.position.z = 100 * deep;
    camera.near = 99 * deep;
    camera.far = 101 * deep;
    camera.updateProjectionMatrix();
    renderer.render(scene, camera);
    drawn += 1;
    place.dataset.drawn = String(drawn);
    place.dataset.facing = [turned.quaternion.x, turned.quaternion.y, turned.quaternion.z, turned.quaternion.w]
      .map((part) => part.toFixed(3)).join(" ");
    place.dataset.zoom = zoom.toFixed(3);
    if (again) redraw();
  }
  const redraw = () => { asked ||= requestAnimationFrame(draw); };
  const scaled = () => { told(pixelsPerMm * zoom); redraw(); };

  function fit() {
    if (!shown) return;
    const [width, height] = size();
    pixelsPerMm = FILLS * Math.min(width / shown.width, (height - FOOT) / shown.height);
  }

  function clear() {
    for (const mesh of meshes) { turned.remove(mesh); mesh.geometry.dispose(); mesh.dispose(); }
    meshes = [];
  }

  // `rings` of [size, centre, normal] in millimetres, `sizes` of [radius, wire].
  function show({ sizes, rings, spots }, anew) {
    clear();
    const put = new Matrix4();
    const at = new Vector3();
    const way = new Vector3();
    const turn = new Quaternion();
    const one = new Vector3(1, 1, 1);
    const low = [Infinity, Infinity];
    const high = [-Infinity, -Infinity];
    let reach = 0;
    sizes.forEach(([radius, wire], kind) => {
      const ofKind = rings.filter((ring) => ring[0] === kind);
      if (ofKind.length === 0) return;
      const [across, round] = rings.length > 24 ? [12, 48] : [16, 64];
      const mesh = new InstancedMesh(new TorusGeometry(radius, wire / 2, across, round), metal, ofKind.length);
      ofKind.forEach(([, x, y, z, nx, ny, nz], index) => {
        at.set(x, y, z);
        turn.setFromUnitVectors(AXIS, way.set(nx, ny, nz).normalize());
        mesh.setMatrixAt(index, put.compose(at, turn, one));
        [[x, nx], [y, ny]].forEach(([middle, slant], axis) => {
          const half = radius * Math.sqrt(Math.max(0, 1 - slant * slant)) + wire / 2;
          low[axis] = Math.min(low[axis], middle - half);
          high[axis] = Math.max(high[axis], middle + half);
        });
        reach = Math.max(reach, at.length() + radius + wire);
      });
      // The bounds of all copies, not of one ring: nothing is left out of the picture.
      mesh.frustumCulled = false;
      turned.add(mesh);
      meshes.push(mesh);
    });
    shown = { width: high[0] - low[0], height: high[1] - low[1], reach: 1.01 * reach };
    const [width, height] = size();
    const fills = pixelsPerMm * Math.max(shown.width / width, shown.height / (height - FOOT));
    if (anew || fills < LEFT_ALONE[0] || fills > LEFT_ALONE[1]) fit();
    spotted(spots ?? [], sizes[0][1]);
    scaled();
  }

  // Contacts that carry, as beads; the more a contact carries, the larger.
  function spotted(spots, wire) {
    if (contacts) { turned.remove(contacts); contacts.geometry.dispose(); contacts.dispose(); contacts = null; }
    if (spots.length === 0) return;
    const most = Math.max(...spots.map((spot) => spot[3]));
    contacts = new InstancedMesh(new SphereGeometry(1, 16, 12), marks, spots.length);
    const put = new Matrix4();
    spots.forEach(([x, y, z, force], index) => {
      const radius = wire * (0.12 + 0.2 * Math.sqrt(Math.max(0, force) / most));
      put.makeScale(radius, radius, radius).setPosition(x, y, z);
      contacts.setMatrixAt(index, put);
    });
    contacts.frustumCulled = false;
    contacts.renderOrder = 1;
    contacts.visible = contactsWanted;
    turned.add(contacts);
  }

  function turn(sideways, upwards) {
    facing.premultiply(new Quaternion().setFromAxisAngle(UP, sideways));
    facing.premultiply(new Quaternion().setFromAxisAngle(RIGHT, upwards)).normalize();
    redraw();
  }
  function nearer(times) {
    zoom = Math.min(NEAREST, Math.max(FURTHEST, zoom * times));
    scaled();
  }
  function home() {
    facing.identity();
    zoom = 1;
    turnsByItself = false;
    fit();
    scaled();
  }

  // One finger or the mouse turns; two fingers bring nearer or further.
  const fingers = new Map();
  canvas.addEventListener("pointerdown", (event) => {
    canvas.setPointerCapture(event.pointerId);
    fingers.set(event.pointerId, [event.clientX, event.clientY]);
    turnsByItself = false;
  });
  canvas.addEventListener("pointermove", (event) => {
    const was = fingers.get(event.pointerId);
    if (!was) return;
    const apart = () => {
      const [[x1, y1], [x2, y2]] = fingers.values();
      return Math.hypot(x1 - x2, y1 - y2);
    };
    const apartBefore = fingers.size === 2 ? apart() : 0;
    fingers.set(event.pointerId, [event.clientX, event.clientY]);
    if (apartBefore > 0) nearer(apart() / apartBefore);
    const share = fingers.size === 2 ? 0.5 : 1;
    turn(share * 0.01 * (event.clientX - was[0]), share * 0.01 * (event.clientY - was[1]));
    turned.quaternion.copy(facing);
  });
  for (const ends of ["pointerup", "pointercancel"]) {
    canvas.addEventListener(ends, (event) => fingers.delete(event.pointerId));
  }
  canvas.addEventListener("webglcontextlost", (event) => { event.preventDefault(); lost(); });
  canvas.addEventListener("webglcontextrestored", () => scaled());

  new ResizeObserver(() => {
    const [width, height] = size();
    renderer.setSize(width, height);
    fit();
    scaled();
  }).observe(place);
  renderer.setSize(...size());

  return {
    show,
    turn,
    nearer,
    home,
    colours(colours, mark) {
      metal.matcap?.dispose();
      metal.matcap = sphere(colours);
      metal.needsUpdate = true;
      marks.color.set(mark);
      redraw();
    },
    showContacts(wanted) {
      contactsWanted = wanted;
      if (contacts) contacts.visible = wanted;
      redraw();
    },
    turnByItself(wanted) {
      turnsByItself = wanted;
      redraw();
    },
  };
}

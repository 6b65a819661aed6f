import { AmbientLight, Box3, Color, DirectionalLight, type Material, Mesh, MeshLambertMaterial, type Object3D, PerspectiveCamera, Raycaster, Scene, Vector2, Vector3, WebGLRenderer } from "three";
import { OrbitControls } from "three/examples/jsm/controls/OrbitControls.js";
import { GLTFLoader } from "three/examples/jsm/loaders/GLTFLoader.js";

/** Stage shows a model in an element of the page. Nothing moves by itself: it is
 * drawn anew only when something changed. */
export class Stage {
  private readonly scene = new Scene();
  private readonly camera = new PerspectiveCamera(40, 1, 0.05, 2000);
  private readonly renderer = new WebGLRenderer({ antialias: true, alpha: true });
  private readonly controls: OrbitControls;
  private readonly sizes: ResizeObserver;
  private readonly parts: { name: string; object: Object3D; comes: number }[] = [];
  private readonly own = new Map<Mesh, Material | Material[]>();
  private readonly fresh = new MeshLambertMaterial({ color: new Color("#c8501e") });
  private readonly marked = new MeshLambertMaterial({ color: new Color("#2f8f6f") });
  private step: number | undefined;
  private named = "";

  constructor(
    private readonly host: HTMLElement,
    choose: (name: string) => void,
  ) {
    host.replaceChildren(this.renderer.domElement);
    this.renderer.domElement.setAttribute("role", "img");
    this.renderer.domElement.setAttribute("aria-label", "Model of the job");
    this.scene.add(new AmbientLight(0xffffff, 1.6));
    const sun = new DirectionalLight(0xffffff, 2.2);
    sun.position.set(3, 8, 5);
    this.scene.add(sun);
    this.controls = new OrbitControls(this.camera, this.renderer.domElement);
    this.controls.addEventListener("change", () => this.draw());
    this.sizes = new ResizeObserver(() => this.fit());
    this.sizes.observe(host);
    this.renderer.domElement.addEventListener("click", (e) => {
      const r = this.renderer.domElement.getBoundingClientRect();
      const ray = new Raycaster();
      ray.setFromCamera(new Vector2(((e.clientX - r.left) / r.width) * 2 - 1, 1 - ((e.clientY - r.top) / r.height) * 2), this.camera);
      const hit = ray.intersectObjects(this.parts.filter((p) => p.object.visible).map((p) => p.object))[0];
      for (let o: Object3D | null = hit?.object ?? null; o; o = o.parent) {
        const part = this.parts.find((p) => p.object === o);
        if (part) {
          choose(part.name.split("/")[0]!);
          return;
        }
      }
    });
  }

  /** load takes a model, and with which step each of its solids comes. */
  async load(glb: ArrayBuffer, comes: Record<string, number>): Promise<void> {
    const { scene } = await new GLTFLoader().parseAsync(glb, "");
    this.scene.add(scene);
    scene.traverse((o) => {
      // The loader keeps a name as the file has it beside the one it makes of it.
      const name = o.userData["name"] as string | undefined;
      if (name && o.userData["kind"]) this.parts.push({ name, object: o, comes: comes[name] ?? -1 });
    });
    const box = new Box3().setFromObject(scene);
    const size = box.getSize(new Vector3());
    const middle = box.getCenter(new Vector3());
    const far = Math.max(size.x, size.y, size.z) * 0.8;
    this.camera.position.set(middle.x + far * 0.5, middle.y + far * 0.75, middle.z + far * 0.95);
    this.controls.target.copy(middle);
    this.controls.update();
    this.fit();
  }

  /** show shows what stands once a step is done, counted from 0, with what it adds in
   * another colour; everything where no step is given. */
  show(step: number | undefined): void {
    this.step = step;
    this.dress();
  }

  /** near looks at what the step adds, with what stands around it; at all of it where
   * the step adds nothing. */
  near(): void {
    const box = new Box3();
    for (const p of this.parts) if (p.comes === this.step) box.expandByObject(p.object);
    if (box.isEmpty()) for (const p of this.parts) box.expandByObject(p.object);
    const size = box.getSize(new Vector3());
    const middle = box.getCenter(new Vector3());
    const far = Math.max(size.x, size.y, size.z, 2.5) * 1.35;
    this.camera.position.set(middle.x + far * 0.5, middle.y + far * 0.55, middle.z + far * 0.95);
    this.controls.target.copy(middle);
    this.controls.update();
    this.draw();
  }

  /** mark shows which parts belong to a bay, a post or a piece. */
  mark(name: string): void {
    this.named = name;
    this.dress();
  }

  private dress(): void {
    for (const [mesh, material] of this.own) mesh.material = material;
    this.own.clear();
    const { step, named } = this;
    for (const p of this.parts) {
      p.object.visible = step === undefined || p.comes <= step;
      if (named && (p.name === named || p.name.startsWith(named + "/"))) this.paint(p.object, this.marked);
      else if (step !== undefined && p.comes === step) this.paint(p.object, this.fresh);
    }
    this.draw();
  }

  /** counts are how many parts stand, and how many the step adds: for tests. */
  get counts(): { stand: number; added: number; all: number } {
    const stand = this.parts.filter((p) => p.object.visible);
    return { stand: stand.length, added: stand.filter((p) => p.comes === this.step).length, all: this.parts.length };
  }

  private paint(o: Object3D, material: Material): void {
    o.traverse((m) => {
      if (!(m instanceof Mesh)) return;
      this.own.set(m, m.material as Material);
      m.material = material;
    });
  }

  private fit(): void {
    const { clientWidth: w, clientHeight: h } = this.host;
    if (!w || !h) return;
    this.camera.aspect = w / h;
    this.camera.updateProjectionMatrix();
    this.renderer.setPixelRatio(Math.min(devicePixelRatio, 2));
    this.renderer.setSize(w, h);
    this.draw();
  }

  private draw(): void {
    this.renderer.render(this.scene, this.camera);
  }

  end(): void {
    this.sizes.disconnect();
    this.controls.dispose();
    this.renderer.dispose();
    this.host.replaceChildren();
  }
}

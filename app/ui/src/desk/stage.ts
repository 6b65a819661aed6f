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
  private readonly parts = new Map<string, Object3D>();
  private readonly own = new Map<Mesh, Material | Material[]>();
  private readonly fresh = new MeshLambertMaterial({ color: new Color("#d9a441") });

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
      const hit = ray.intersectObjects([...this.parts.values()].filter((p) => p.visible))[0];
      for (let o: Object3D | null = hit?.object ?? null; o; o = o.parent) {
        const label = o.userData.label as string | undefined;
        if (label) {
          choose(label.split("/")[0]!);
          return;
        }
      }
    });
  }

  /** load takes a model; its parts carry their labels as extras. */
  async load(glb: ArrayBuffer): Promise<void> {
    const { scene } = await new GLTFLoader().parseAsync(glb, "");
    this.scene.add(scene);
    scene.traverse((o) => {
      const label = (o.userData.label as string | undefined) ?? (o.children.length === 0 || o instanceof Mesh ? o.name : undefined);
      if (!label) return;
      o.userData.label = label;
      this.parts.set(label, o);
    });
    const box = new Box3().setFromObject(scene);
    const size = box.getSize(new Vector3());
    const middle = box.getCenter(new Vector3());
    const far = Math.max(size.x, size.y, size.z) * 1.1;
    this.camera.position.set(middle.x + far * 0.6, middle.y + far * 0.7, middle.z + far * 0.9);
    this.controls.target.copy(middle);
    this.controls.update();
    this.fit();
  }

  /** show shows what stands, and what is added now in another colour. */
  show(upTo?: string[], adds?: string[]): void {
    for (const [mesh, material] of this.own) mesh.material = material;
    this.own.clear();
    const stands = upTo && new Set(upTo);
    const added = new Set(adds ?? []);
    for (const [label, o] of this.parts) {
      o.visible = !stands || stands.has(label) || added.has(label) || !label.includes("/");
      if (added.has(label)) this.paint(o);
    }
    this.draw();
  }

  mark(name: string): void {
    for (const [mesh, material] of this.own) mesh.material = material;
    this.own.clear();
    if (name) for (const [label, o] of this.parts) if (label === name || label.startsWith(name + "/")) this.paint(o);
    this.draw();
  }

  private paint(o: Object3D): void {
    o.traverse((m) => {
      if (!(m instanceof Mesh)) return;
      this.own.set(m, m.material as Material);
      m.material = this.fresh;
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

// What the page uses of three.js.
export {
  AmbientLight, BoxGeometry, BufferAttribute, BufferGeometry, ColorManagement, DirectionalLight, DoubleSide, Group, LinearSRGBColorSpace,
  LineBasicMaterial, LineSegments, Mesh, MeshBasicMaterial, MeshLambertMaterial, PerspectiveCamera, Scene, ShapeUtils, SphereGeometry,
  Vector2, Vector3, WebGLRenderer,
} from "three";
export {OrbitControls} from "three/addons/controls/OrbitControls.js";

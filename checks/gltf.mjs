// Validates a GLB file with the Khronos validator and prints its report, and the
// names of nodes, as JSON.
import { readFileSync } from "node:fs";
import validator from "gltf-validator";

const data = new Uint8Array(readFileSync(process.argv[2]));
const report = await validator.validateBytes(data, { maxIssues: 50, writeTimestamp: false });
const length = new DataView(data.buffer, data.byteOffset).getUint32(12, true);
const doc = JSON.parse(new TextDecoder().decode(data.subarray(20, 20 + length)));
console.log(JSON.stringify({
  validator: report.validatorVersion,
  issues: report.issues,
  info: report.info,
  names: doc.nodes.map((n) => n.name),
  parents: doc.nodes.map((n, i) => doc.nodes.findIndex((m) => (m.children ?? []).includes(i))),
}));

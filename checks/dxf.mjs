// Prints DXF files as JSON, a line each: as dxf-parser reads them and, since that
// one passes over hatches, the hatches as the module dxf reads them.
import { readFileSync } from "node:fs";
import DxfParser from "dxf-parser";
import { parseString } from "dxf";

for (const name of process.argv.slice(2)) {
  const text = readFileSync(name, "utf8");
  const dxf = new DxfParser().parseSync(text);
  if (!dxf) throw new Error("not a DXF file");
  const other = parseString(text);
  console.log(JSON.stringify({
    header: dxf.header,
    layers: Object.keys(dxf.tables.layer.layers),
    lineTypes: Object.keys(dxf.tables.lineType.lineTypes),
    blocks: dxf.blocks,
    entities: dxf.entities,
    entitiesOfTheOther: other.entities.length,
    hatches: other.entities.filter((e) => e.type === "HATCH"),
  }));
}

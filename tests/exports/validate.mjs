// Khronos glTF validator: node validate.mjs FOLDER FILE, where FOLDER holds node_modules/gltf-validator. Prints JSON.
import { readFile } from "node:fs/promises";
import { createRequire } from "node:module";
import { resolve } from "node:path";

const [folder, file] = process.argv.slice(2);
const validator = createRequire(resolve(folder) + "/")("gltf-validator");
const report = await validator.validateBytes(new Uint8Array(await readFile(file)), { maxIssues: 20 });
console.log(JSON.stringify(report));

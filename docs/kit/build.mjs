// Makes the two files of the widgets that are made from other people's: `node docs/kit/build.mjs FOLDER`.
// Needs Node, and beside it: npm install --no-save --no-package-lock $(cat docs/kit/packages.txt)
// Makers need none of it: what it makes is kept with the sources, in mosaickit/widgets/book.
import { readFileSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";

const here = dirname(fileURLToPath(import.meta.url));
const require = createRequire(join(process.cwd(), "node_modules", "any"));
const esbuild = require("esbuild");
const into = process.argv[2];
const folder = (name) => join(process.cwd(), "node_modules", name);
const licence = (name, file) => readFileSync(join(folder(name), file), "utf8").trim();
const version = (name) => JSON.parse(readFileSync(join(folder(name), "package.json"), "utf8")).version;
const comment = (text) => text.split("\n").map((line) => `// ${line}`.trimEnd()).join("\n");

const NAMES = ["html", "mount", "useEffect", "useLayoutEffect", "useRef", "useState"];
const made = await esbuild.build({
  entryPoints: [join(here, "source.mjs")],
  nodePaths: [join(process.cwd(), "node_modules")],
  bundle: true, minify: true, write: false, format: "iife", globalName: "mosaickitParts", target: "es2020", charset: "utf8",
  legalComments: "none",
});
const kit = `// @ts-nocheck
// Made by docs/kit/build.mjs from preact ${version("preact")} and htm ${version("htm")}. Do not edit.
${comment(licence("preact", "LICENSE"))}
//
// htm is by its own authors, under the Apache License, Version 2.0: www.apache.org/licenses/LICENSE-2.0
${made.outputFiles[0].text.trim()}
export const { ${NAMES.join(", ")} } = mosaickitParts;
`;
writeFileSync(join(into, "kit.js"), kit);

const wanted = JSON.parse(readFileSync(join(here, "icons.json"), "utf8"));
const drawn = Object.entries(wanted).map(([name, icon]) => {
  const svg = readFileSync(join(folder("lucide-static"), "icons", `${icon}.svg`), "utf8");
  const inside = svg.replace(/^[\s\S]*?<svg[^>]*>/, "").replace(/<\/svg>\s*$/, "").replace(/\s+/g, " ").trim();
  return `  ${JSON.stringify(name)}: '${inside}',`;
});
const icons = `// @ts-check
// Made by docs/kit/build.mjs from lucide-static ${version("lucide-static")}. Do not edit; docs/kit/icons.json says which.
${comment(licence("lucide-static", "LICENSE"))}

/** What is inside each icon's SVG, 24 × 24, drawn in lines.
 * @type {Record<string, string>} */
export const ICONS = {
${drawn.join("\n")}
};
`;
writeFileSync(join(into, "icons.js"), icons);

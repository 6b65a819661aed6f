// Plays one part of the story, named by the first argument, and ends with 1 where
// something did not hold. The Go test beside it starts the server and this.
const [part, ...more] = process.argv.slice(2);
const parts = {
  crew: () => import("./crew.mjs"),
  office: () => import("./office.mjs"),
  doors: () => import("./doors.mjs"),
  shop: () => import("./shop.mjs"),
  words: () => import("./words.mjs"),
};

try {
  if (!parts[part]) throw new Error(`no part ${part}; there are ${Object.keys(parts).join(", ")}`);
  const { play } = await parts[part]();
  await play(...more);
} catch (err) {
  console.error(err.stack ?? err);
  process.exitCode = 1;
}

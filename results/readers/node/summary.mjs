// Prints the summary of each table named, for the tests of the other readers to compare.
import {readTable, summary} from "./tables.mjs";

const all = {};
for (const path of process.argv.slice(2)) all[path] = summary(await readTable(path));
console.log(JSON.stringify(all));

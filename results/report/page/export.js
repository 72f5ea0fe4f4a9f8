// Taking candidates away: as ids, and as comma-separated values.
const quoted = v => /[",\n\r]/.test(v) ? `"${v.replaceAll('"', '""')}"` : v;

function csv(rows) {
  const facets = F.filter(f => f.name !== "case"), lines = [["candidate", "case", ...facets.map(f => f.name), ...D.columns.map(c => c.name)]];
  for (const r of rows) lines.push([D.ids[r], caseOf(r).name, ...facets.map(f => f.values[f.of[r]]), ...D.columns.map(c => Number.isNaN(c.values[r]) ? "" : String(c.values[r]))]);
  return lines.map(l => l.map(quoted).join(",")).join("\r\n") + "\r\n"; // RFC 4180
}

function save(name, text) {
  const a = html(document.body, "a", {download: name, href: URL.createObjectURL(new Blob([text], {type: "text/csv"}))});
  a.click();
  a.remove();
  setTimeout(() => URL.revokeObjectURL(a.href), 10000);
}

// copy puts text on the clipboard and says so on the button. Browsers that keep the clipboard from pages of a file
// still let a selected field be copied.
async function copy(text, button) {
  let done = true;
  try { await navigator.clipboard.writeText(text); } catch {
    const field = html(document.body, "textarea", {style: "position:fixed;opacity:0"}, text);
    field.select();
    done = document.execCommand("copy");
    field.remove();
  }
  const name = button.dataset.name = button.dataset.name || button.textContent;
  button.textContent = done ? "copied" : "not copied";
  setTimeout(() => { button.textContent = name; }, 1500);
}

function layExport() {
  byID("allids").onclick = e => copy(sortedRows().map(r => D.ids[r]).join("\n"), e.target);
  byID("allcsv").onclick = () => save("candidates.csv", csv(sortedRows()));
}

// Comma-separated values as RFC 4180 has them; semicolons and tabs are taken too when the first line has more of them.

/** Rows of cells. Empty rows are left out. */
export function fromCsv(text) {
  const plain = text.replace(/^\ufeff/, "");
  const first = plain.split("\n", 1)[0];
  const mark = [",", ";", "\t"].reduce((best, one) => first.split(one).length > first.split(best).length ? one : best, ",");
  const rows = [];
  let row = [];
  let cell = "";
  let quoted = false;
  for (let at = 0; at < plain.length; at += 1) {
    const c = plain[at];
    if (quoted) {
      if (c !== '"') cell += c;
      else if (plain[at + 1] === '"') { cell += '"'; at += 1; } else quoted = false;
    } else if (c === '"' && cell === "") quoted = true;
    else if (c === mark) { row.push(cell); cell = ""; } else if (c === "\n") { row.push(cell); rows.push(row); row = []; cell = ""; } else if (c !== "\r") cell += c;
  }
  row.push(cell);
  rows.push(row);
  return rows.filter((cells) => cells.some((one) => one.trim()));
}

/** The text of rows. A cell that a spreadsheet would run as a formula is given a space in front. */
export function toCsv(rows) {
  const cell = (value) => {
    const text = String(value ?? "").replace(/^[=+@-]/, " $&");
    return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
  };
  return rows.map((row) => row.map(cell).join(",")).join("\r\n") + "\r\n";
}

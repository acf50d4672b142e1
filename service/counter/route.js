// Every state of the page is a URL: #/view/number/side?condition=value. Reading and writing them.

export const WEAKEST = "from-memory";

/** {steps, query} of a hash. A hash that cannot be decoded is the empty route. */
export function parse(hash) {
  const [path, search = ""] = hash.replace(/^#\/?/, "").split(/\?(.*)/s);
  const query = new URLSearchParams(search);
  try {
    return { steps: path.split("/").filter(Boolean).map(decodeURIComponent), query };
  } catch {
    return { steps: [], query };
  }
}

/** The hash of a route; empty values are left out. */
export function write(steps, query) {
  const kept = new URLSearchParams();
  const pairs = query instanceof URLSearchParams ? query.entries() : Object.entries(query ?? {});
  for (const [name, value] of pairs) if (value !== "" && value !== null && value !== undefined && value !== false) kept.append(name, value);
  const search = kept.toString();
  return `#/${steps.map(encodeURIComponent).join("/")}${search ? `?${search}` : ""}`;
}

/** The weakest basis accepted: what the URL says, else what was chosen last, else everything. */
export function trust() {
  const asked = parse(location.hash).query.get("basis");
  return asked ?? remembered("trust") ?? WEAKEST;
}

/** The hash of a view that keeps the trust of this one. */
export function here(steps, query) {
  const kept = new URLSearchParams();
  const pairs = query instanceof URLSearchParams ? query.entries() : Object.entries(query ?? {});
  for (const [name, value] of pairs) if (name !== "basis") kept.append(name, value ?? "");
  if (trust() !== WEAKEST) kept.set("basis", trust());
  return write(steps, kept);
}

/** Goes to a route; `replace` when the step back should not stop here. */
export function go(hash, replace = false) {
  if (replace) {
    history.replaceState(null, "", hash);
    window.dispatchEvent(new HashChangeEvent("hashchange"));
  } else location.hash = hash;
}

let seeking = false;

/** Whether the view about to be shown was asked for by a button under which its result appears; says so once. */
export function sought() {
  const was = seeking;
  seeking = false;
  return was;
}

/** The same view with one or more conditions changed. `seek`: the reader is then taken to the result. */
export function change(pairs, seek = false) {
  seeking = seek;
  const { steps, query } = parse(location.hash);
  for (const [name, value] of Object.entries(pairs)) {
    query.delete(name);
    for (const one of [value].flat()) if (one !== null && one !== "" && one !== false) query.append(name, one);
  }
  go(write(steps, query), true);
}

/** What the page keeps on this device between visits; null where nothing may be kept. */
export function remembered(name) {
  try {
    return localStorage.getItem(`gripledger.${name}`);
  } catch {
    return null;
  }
}

/** Keeps a word on this device; says whether it could. */
export function remember(name, value) {
  try {
    if (value === null) localStorage.removeItem(`gripledger.${name}`);
    else localStorage.setItem(`gripledger.${name}`, value);
    return true;
  } catch {
    return false;
  }
}

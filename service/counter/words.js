// The page's own words for what the service says in names.

/** Bases, strongest first: the word shown, what it means, and how the switch names it. */
export const BASES = [
  ["published", "published", "read in the document named"],
  ["secondary", "secondary", "read in a text that repeats the document"],
  ["derived", "derived", "worked out from other rows"],
  ["common-practice", "common practice", "held in the trade, no document named"],
  ["from-memory", "from memory", "recalled, not read in a document"],
];

/** A basis in words. */
export function basisWord(basis) {
  return BASES.find(([name]) => name === basis)?.[1] ?? basis ?? "no basis";
}

/** What a basis means. */
export function basisMeaning(basis) {
  return BASES.find(([name]) => name === basis)?.[2] ?? "";
}

/** A name of the tables as words. */
export function words(name) {
  return String(name ?? "").replaceAll("_", " ");
}

/** The same, with a capital. */
export function heading(name) {
  const text = words(name);
  return text.charAt(0).toUpperCase() + text.slice(1);
}

/** More than one of a role. */
export function several(role) {
  const text = heading(role);
  return text.endsWith("s") ? text : text.endsWith("h") ? `${text}es` : `${text}s`;
}

/** Verdicts of a candidate and of a joint: a sign, a word, a tone. */
export const VERDICTS = {
  fits: ["✓", "fits", "good"],
  conditional: ["!", "on conditions", "care"],
  excluded: ["✕", "ruled out", "bad"],
  compatible: ["✓", "Goes together", "good"],
  compatible_with_conditions: ["!", "Goes together, on conditions", "care"],
  incompatible: ["✕", "Does not go together", "bad"],
  unknown: ["?", "Cannot be judged", "care"],
};

/** What a refusal is called, by the outcome. */
export const OUTCOMES = {
  decoded: "read",
  "not-made": "no such number",
  "not-covered": "family not held",
  ambiguous: "more than one reading",
  unreadable: "not readable",
  none: "no number",
};

/** The conditions offered as switches: name, words. The service has more; these are the ones asked at a counter. */
export const FLAGS = [
  ["rotates", "Bolt or nut turns in service"],
  ["primary_structure", "Primary structure"],
  ["control_system", "Single attachment in a control system"],
  ["opened_every_flight", "Opened before or after each flight"],
  ["engine_intake", "A loose part could enter a turbine intake"],
  ["heat_source", "In or near a hot area"],
];
export const LOADS = [["", "not stated"], ["tension", "tension"], ["shear", "shear"], ["both", "both"]];
export const MATERIALS = ["aluminium", "magnesium", "steel", "stainless", "titanium", "wood", "composite", "plastic"];

/** A quantity's tolerance in words, empty when it has none. */
export function tolerance(value) {
  const { plus, minus } = value;
  if ((plus === null || plus === undefined) && (minus === null || minus === undefined)) return "";
  if (plus === minus) return ` ±${plus}`;
  return ` +${plus ?? 0} −${minus ?? 0}`;
}

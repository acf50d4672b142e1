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

/** A basis as the trust switch names it: everything down to it. */
export function throughWord(basis) {
  const at = BASES.findIndex(([name]) => name === basis);
  return at === BASES.length - 1 ? "any basis" : at === 0 ? "published only" : `${BASES[at]?.[1] ?? basis} or better`;
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

/** Conditions for which the page has shorter words than the tables' own meaning. */
export const CONDITIONS = {
  race_clamped: "Bolt and nut clamp a bearing's inner race",
  primary_structure: "Primary structure",
  secondary_structure: "Secondary structure",
  endangers_flight: "Its failure could endanger aircraft or people",
  control_system: "Single attachment in a control system",
  frequently_removed: "Taken out often",
  opened_every_flight: "Opened before or after each flight",
  engine_intake: "A loose part could enter a turbine intake",
  heat_source: "In or near a hot area",
  airflow: "Stands in the airstream",
  corrosive: "Corrosion is likely",
  bare_head_on: "Under the head, without a washer",
  bare_nut_on: "Under the nut, without a washer",
  fuel_contact: "Touches fuel, hydraulic fluid or lubricant",
};
const SHORT = { temperature: "highest heat", rotates: "turns in service", material: "what is under head and nut" };

/** A condition's name within a sentence. */
export function shortly(name) {
  return SHORT[name] ?? words(name);
}

export const LOADS = [["", "not stated"], ["tension", "tension"], ["shear", "shear"], ["both", "both"]];
export const MATERIALS = ["aluminium", "magnesium", "steel", "stainless", "titanium", "wood", "composite", "plastic"];

/** A quantity's tolerance in words, empty when it has none. */
export function tolerance(value) {
  const { plus, minus } = value;
  if ((plus === null || plus === undefined) && (minus === null || minus === undefined)) return "";
  if (plus === minus) return ` ±${plus}`;
  return ` +${plus ?? 0} −${minus ?? 0}`;
}

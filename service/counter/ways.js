// Which module shows which route. It stands first in the page, so that what a route needs is on its way before the rest is read.

import { parse } from "./route.js";

const mates = () => [import("./views/mates.js"), import("./conditions.js"), import("./views/unheard.js"), import("./paper.js")];
const LATER = {
  // what a view leans on is asked for with it, not a turn later
  joint: () => [import("./views/joint.js"), import("./views/torque.js"), ...mates()],
  list: () => [import("./views/list.js"), import("./csv.js"), import("./paper.js")],
  what: () => [import("./views/what.js")],
  stored: () => [import("./views/kept.js")],
};
const SIDES = { mates, alternates: () => [import("./views/alternates.js"), import("./views/unheard.js")] };

/** The module that shows a route, on its way. */
export async function moduleOf(route) {
  const [name, , side] = route.steps;
  const needed = name === "part" ? SIDES[side] : LATER[name];
  return needed ? (await Promise.all(needed()))[0] : import("./views/part.js");
}

moduleOf(parse(location.hash)).catch(() => {}); // whoever shows it asks again and says what is wrong

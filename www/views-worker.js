// Works out combinations for the page, one piece for each message. The page posts the compiled wasm, so that nothing is
// fetched here.

import { combine_piece, initSync } from "./clothyard_views.js";

addEventListener("message", ({ data: { module, job, hand, build, axes, start, count } }) => {
  if (module) {
    initSync({ module });
    return;
  }
  const numbers = combine_piece(build, axes, start, count);
  postMessage({ job, hand, start, numbers }, [numbers.buffer]);
});

// The page responds during input, also on a machine four times slower than this one.

import assert from "node:assert/strict";
import { test } from "node:test";
import { measure } from "./speed.mjs";

test("a slider's step is handled within 50 ms and painted within 100 ms at 4x throttle", async () => {
  const { first, handler, paint } = await measure();
  assert.ok(handler <= 50, `handled in ${handler} ms`);
  assert.ok(paint <= 100, `painted in ${paint} ms`);
  assert.ok(first <= 10_000, `first answer after ${first} ms`);
});

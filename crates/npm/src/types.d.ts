/** A set-up as it is saved. What is left out is left to the program; keys carry their units. */
export interface Build {
  schemaVersion: 1;
  name?: string;
  /** Numbers, and keys of answers, by key: `{ peakDrawWeightLb: 62, bowKind: "recurve" }`. */
  inputs?: Record<string, number | string>;
  ownParts?: { name: string; massGr: number; centreIn: number; lengthIn: number }[];
  shafts?: {
    name: string;
    staticSpineThousandths: number;
    shaftGrPerIn: number;
    outerDiameterIn: number;
    boreIn: number;
  }[];
  /** Distances and readings: rows of numbers, null where one is left out. */
  lists?: Record<string, (number | null)[][]>;
  ruleSource?: string;
  currency?: string;
}

/** Why a build cannot be read. */
export interface Refusal {
  code: string;
  field: string;
  value: number | null;
  minimum: number | null;
  maximum: number | null;
  message: string;
}

/** The full report. A result that has no answer is null. Keys carry their units. */
export interface Report {
  schemaVersion: 1;
  programVersion: string;
  name: string;
  inputs: Record<string, { value: number | string; leftToPage: boolean }>;
  results: Record<string, number | null>;
  verdict: "actsStiff" | "wellMatched" | "actsWeak" | null;
  nearestStock: string | null;
  verge: [number, number] | null;
  outOfReach: Record<string, number>;
  parts: { part: string; massGr: number; centreIn: number }[];
  cautions: { code: string; weight: "danger" | "check" | "remark"; sentence: string }[];
  always: string[];
  matchSentence: string;
  mendSentence: string;
  workings: { result: string; formula: string; terms: [string, string, number | null][]; source: string; sure: string }[];
  /** What the shot does to the arrow, what it does after it leaves, what was measured. */
  shot: Record<string, unknown> | null;
  inFlight: Record<string, unknown>;
  [more: string]: unknown;
}

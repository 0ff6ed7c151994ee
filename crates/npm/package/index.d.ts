import type { Inputs, Lists, OwnPart, Results, StockShaft } from "./keys.js";

export type { Inputs, Lists, OwnPart, Results, StockShaft };

/**
 * The full report of a setup.
 *
 * @throws {SetupError} where the setup cannot be read; nothing is computed then
 */
export function evaluate(setup: Setup): Report;

/** A setup as it is saved: what the user gave. Everything left out has its default. */
export interface Setup {
  schemaVersion: 1;
  /** At most 80 characters. */
  name?: string;
  inputs?: Inputs;
  /** Parts that have no input of their own, at most 12. */
  ownParts?: OwnPart[];
  /** The shafts to choose from, 1 to 200; an invented list where left out. */
  shafts?: StockShaft[];
  lists?: Lists;
  /** Name and year of the rule book that the limits are from. */
  ruleSource?: string;
  /** Sign of the currency that prices are in. */
  currency?: string;
}

/** Why a setup cannot be read. Thrown as a plain object. */
export interface SetupError {
  /** What kind of error, such as `value` for a number out of its range or `unknownKey`. */
  code: string;
  /** Where it is: a key, or a place such as `ownParts[0].massGr`. */
  field: string;
  /** The number found, where it is out of range. */
  value: number | null;
  minimum: number | null;
  maximum: number | null;
  /** The error in words. */
  message: string;
}

/** The full report. Keys carry their units; what has no answer is null. Sentences are in inches, pounds and grains. */
export interface Report {
  schemaVersion: 1;
  programVersion: string;
  name: string;
  /** The value used for every input that has one. */
  inputs: { [Key in keyof Inputs]?: { value: NonNullable<Inputs[Key]>; leftToPage: boolean } };
  results: Results;
  /** The match alone: see headline. */
  verdict: "actsStiff" | "wellMatched" | "actsWeak" | null;
  /** The answer: a danger where there is one, else the match. */
  headline: {
    key: "danger" | "check" | "actsStiff" | "wellMatched" | "actsWeak" | "noMatch";
    title: string;
    reason: string;
  };
  /** What the launch speed is computed from. */
  speedFrom: "bowKind" | "drawForce" | "ratedSpeed" | "chronograph" | null;
  /** Name of the closest shaft in the list. */
  nearestStock: string | null;
  /** What to buy and where to cut it; null where no shaft of the list can be shot safely. */
  recommendation: {
    shaft: string | null;
    cutIn: number | null;
    /** The point it needs, where no shaft is safe with the present one. */
    pointGr: number | null;
    /** In words, with the next spine and the end of the list. */
    sentence: string;
  };
  /** For an inverse question without an answer: the end of the range that comes closest. */
  outOfReach: { [Key in keyof Results]?: number };
  /** The parts of the arrow, from the nock forward. */
  parts: PartReport[];
  /** Warnings, the most severe first. */
  cautions: WarningReport[];
  /** Safety sentences that apply to every arrow. */
  always: string[];
  matchSentence: string;
  /** What would correct the match; empty where nothing is wrong. */
  mendSentence: string;
  targetSentence: string;
  speedSentence: string | null;
  givenSentence: string;
  assumedSentence: string;
  /** Formula, terms and source of every result. */
  workings: Working[];
  /** What the shot does to the arrow. */
  shot: ShotReport | null;
  measured: MeasurementsReport;
  inFlight: FlightReport;
}

export interface PartReport {
  part:
    | "nock"
    | "bushing"
    | "vanes"
    | "wrap"
    | "rearGlue"
    | "shaft"
    | "insert"
    | "collar"
    | "sleeve"
    | "frontGlue"
    | "point"
    | "own";
  massGr: number;
  /** Center of mass ahead of the nock groove. */
  centreIn: number;
}

export interface WarningReport {
  /** Which warning. */
  code: string;
  /** `danger`: do not shoot. `check`: two inputs disagree, or one is doubtful. `remark`: outside what is usual. */
  weight: "danger" | "check" | "remark";
  sentence: string;
}

export interface Working {
  result: keyof Results;
  formula: string;
  /** Symbol, key and value of each term of the formula. */
  terms: [symbol: string, key: keyof Inputs | keyof Results, value: number | null][];
  source: string;
  /** How accurate the result is, in words. */
  sure: string;
}

export interface ShotReport {
  timeOnStringMs: number;
  /** Greatest bend of the shaft while the string drives it; null off the fingers where the simulation does not hold. */
  greatestBendIn: number | null;
  /** That bend over the shaft's straightness error; null off the fingers. */
  magnification: number | null;
  /** Natural frequencies of bending in flight, lowest first. */
  freeFrequenciesHz: [number, number, number];
  /** Cycles of the first of them in the time on the string. */
  swingsOnString: number;
  /** Greatest sideways movement of the shaft at the rest while it passes; null off the fingers. */
  restExcursionIn: number | null;
  /** Off the fingers: greatest sideways movement of the nock on the string. */
  nockAsideIn: number | null;
  /** Off the fingers: when the shaft last touches plunger or shelf before it leaves the string. */
  restLeftMs: number | null;
}

/** What was measured and what follows from it; null where nothing was measured. */
export interface MeasurementsReport {
  storedEnergyFrom: "measured" | "bowKind";
  virtualMassFrom: "measured" | "assumed";
  targetFrom: "provenArrow" | "launch";
  drawForce: DrawForceReport | { error: string } | null;
  speeds: SpeedsReport | null;
  rig: { staticSpineThousandths: number | null; uncertaintyThousandths: number | null } | null;
  finished: FinishedArrowReport | null;
  fits: FitReport[];
}

/** The draw-force readings. */
export interface DrawForceReport {
  error: null;
  peakLb: number;
  /** Where it peaks, string to pivot point. */
  peakAtIn: number;
  /** From brace height to the last reading. */
  strokeIn: number;
  letOffPercent: number;
  valleyIn: number;
  storedEnergyFtLb: number;
  /** Standard uncertainty of that energy from the resolution of ruler and scale. */
  energyOpenByStepsFtLb: number;
  /** The most that resolution can change it. */
  energyOpenAtMostFtLb: number;
  /** What a smooth curve through the readings would store beyond straight lines. */
  energyBetweenReadingsFtLb: number;
}

/** The chronograph readings, and the estimate of the bow that they went into. */
export interface SpeedsReport {
  deliveredEnergyFtLb: number;
  /** Its standard error. */
  energyErrorFtLb: number;
  /** Virtual mass of the bare string. */
  virtualMassGr: number;
  /** Its standard error. */
  virtualMassErrorGr: number;
  /** Standard deviation of one shot. */
  scatterFps: number;
  /** Speed of each shot less that of the bow; null for an arrow beyond any bow. */
  residualsFps: (number | null)[];
  /** The shot that may be wrong, from 1; it counts all the same. */
  suspectShot: number | null;
}

/** The finished arrow compared with its parts. */
export interface FinishedArrowReport {
  /** Measured minus computed weight. */
  weightOffGr: number | null;
  /** Measured minus computed balance point. */
  balanceOffIn: number | null;
  /** The difference in standard uncertainties. */
  misfit: number | null;
  /** The most likely explanations. */
  explanations: string[];
}

/** A fit or clearance, such as the nock on the string. */
export interface FitReport {
  fit: string;
  /** Whether to check it before shooting. */
  caution: boolean;
  words: string;
}

export interface FlightReport {
  /** Why there is no flight; then `arrow` is null and `distances` is empty. */
  error: string | null;
  arrow: ArrowInFlight | null;
  distances: { distanceYd: number; at: AtDistance | null }[];
  /** The rule book's limits that were given. */
  rules: { limit: keyof Inputs; kept: boolean | null; sentence: string }[];
}

export interface ArrowInFlight {
  airDensityKgPerM3: number;
  /** At launch, on the shaft's cross section. */
  dragCoefficient: number;
  /** Whether it follows from a speed measured downrange. */
  dragMeasured: boolean;
  /** The computed coefficient's parts. */
  dragParts: [shaft: number, vanes: number, point: number, base: number] | null;
  pointOnYd: number | null;
  farthestYd: number | null;
  steady: StabilityReport | null;
}

export interface StabilityReport {
  /** Center of pressure from the nock groove. */
  centreOfPressureIn: number;
  /** How far it is behind the balance point. */
  marginIn: number;
  marginCalibres: number;
  marginPercent: number;
  /** The same with a field point in place of the broadhead. */
  marginWithAFieldPointPercent: number | null;
  /** Vane height that gives the target margin. */
  vaneHeightWantedIn: number | null;
  wavelengthYd: number | null;
  /** Distance in which a wobble halves. */
  halfDistanceYd: number | null;
  /** At full spin. */
  yardsPerTurn: number | null;
}

export interface AtDistance {
  timeS: number;
  speedFps: number;
  energyFtLb: number;
  momentumSlugFps: number;
  /** Above the line of sight, with the sight as set. */
  heightIn: number;
  /** To the right. */
  driftIn: number;
  driftInPerMph: number;
  /** Launch angle above the line of sight that hits here. */
  elevationDeg: number;
  /** Sight mark below that of the nearest distance. */
  markIn: number;
  /** Nearest and farthest distance that still hits the zone. */
  nearYd: number;
  farYd: number;
  /** Peak of the path above the line of sight, and where it is. */
  highestIn: number;
  highestAtYd: number;
}

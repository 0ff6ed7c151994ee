// Written by scripts/write-form from the tables in crates/core/src/schema. Do not edit.

/** Values of inputs by key. Units are in the keys; an input left out has its default. */
export interface Inputs {
  /** Peak draw weight, 5 to 150 lb */
  peakDrawWeightLb?: number;
  /** Read from */
  drawWeightFrom?: "scale" | "label";
  /** Draw length, 15 to 36 in */
  drawLengthIn?: number;
  /** Arm span, 40 to 100 in */
  armSpanIn?: number;
  /** Kind of bow */
  bowKind?: "compound" | "recurve" | "longbow";
  /** Loosed by */
  launch?: "releaseAid" | "fingersCentreCut" | "fingersShelf";
  /** Let-off, 0 to 99 % */
  letOffPercent?: number;
  /** Cam */
  cam?: "soft" | "medium" | "hard";
  /** Brace height, 3 to 12 in */
  braceHeightIn?: number;
  /** Rest ahead of pivot, -8 to 6 in */
  restOffsetIn?: number;
  /** Rest holds for, 0 to 100 % */
  restHoldsPercent?: number;
  /** Shaft past the rest, at least, 0 to 6 in */
  shortestReachIn?: number;
  /** Lightest arrow the bow allows, 5 to 20 gr/lb */
  makersMinimumGrPerLb?: number;
  /** Rated speed, 80 to 450 fps */
  ratedSpeedFps?: number;
  /** Rated under */
  ratedUnder?: "fiveGrainsPerPound" | "olderAmo" | "own";
  /** Rating draw weight, 10 to 150 lb */
  ratingDrawWeightLb?: number;
  /** Rating draw length, 20 to 36 in */
  ratingDrawLengthIn?: number;
  /** Rating arrow weight, 100 to 1000 gr */
  ratingArrowGr?: number;
  /** Chronograph speed, 50 to 450 fps */
  chronographSpeedFps?: number;
  /** Arrow shot over it, 100 to 1500 gr */
  chronographArrowGr?: number;
  /** Weight added at the nock, 0 to 200 gr */
  stringAtNockGr?: number;
  /** Weight added along the string, 0 to 300 gr */
  stringSpreadGr?: number;
  /** Virtual mass of the bow, 5 to 600 gr */
  virtualMassGr?: number;
  /** Energy lost in the bow, 0 to 60 % */
  energyLossPercent?: number;
  /** Load of your proven arrow, 0.1 to 5 */
  provenColumnLoad?: number;
  /** Nock */
  nockKind?: "plain" | "lighted" | "pin";
  /** Nock weight, 0 to 100 gr */
  nockGr?: number;
  /** Throat to shaft, 0 to 2 in */
  throatToShaftIn?: number;
  /** Bushing weight, 0 to 100 gr */
  bushingGr?: number;
  /** Bushing length, 0 to 2 in */
  bushingLengthIn?: number;
  /** Vanes, 0 to 6 */
  vaneCount?: number;
  /** Each vane, 0 to 50 gr */
  vaneGr?: number;
  /** Vane length, 0.2 to 8 in */
  vaneLengthIn?: number;
  /** Vane height, 0.05 to 2 in */
  vaneHeightIn?: number;
  /** Throat to vane, 0 to 10 in */
  vaneSetBackIn?: number;
  /** Outline of the vanes */
  vaneOutline?: "parabolic" | "shield" | "straight" | "low";
  /** Vane offset, 0 to 10 ° */
  vaneOffsetDeg?: number;
  /** Static margin wanted, 0 to 60 % */
  marginWantedPercent?: number;
  /** Wrap weight, 0 to 50 gr */
  wrapGr?: number;
  /** Wrap length, 0.5 to 12 in */
  wrapLengthIn?: number;
  /** Glue under the vanes, 0 to 30 gr */
  rearGlueGr?: number;
  /** Static spine, 100 to 3000 */
  staticSpineThousandths?: number;
  /** Cut length, 10 to 40 in */
  cutLengthIn?: number;
  /** Shaft weight, 1 to 60 gr/in */
  shaftGrPerIn?: number;
  /** Bare shaft, weighed, 30 to 1500 gr */
  bareShaftGr?: number;
  /** Bow of the bare shaft, 0.0005 to 0.05 in */
  shaftBowIn?: number;
  /** Outer diameter, 0.1 to 0.6 in */
  outerDiameterIn?: number;
  /** Inner diameter, 0.05 to 0.5 in */
  boreIn?: number;
  /** Point held by */
  insertKind?: "insert" | "halfOut" | "outsert";
  /** Insert weight, 0 to 250 gr */
  insertGr?: number;
  /** Length on the shaft, 0 to 6 in */
  insertInsideIn?: number;
  /** Length ahead of the shaft, 0 to 4 in */
  insertAheadIn?: number;
  /** Material */
  insertMaterial?: "aluminium" | "steel" | "titanium" | "brass";
  /** Collar weight, 0 to 100 gr */
  collarGr?: number;
  /** Collar length, 0 to 2 in */
  collarLengthIn?: number;
  /** Front sleeve weight, 0 to 150 gr */
  sleeveGr?: number;
  /** Front sleeve length, 0.1 to 8 in */
  sleeveLengthIn?: number;
  /** Glue at the insert, 0 to 30 gr */
  frontGlueGr?: number;
  /** Point weight, 10 to 600 gr */
  pointGr?: number;
  /** Kind of point */
  pointKind?: "field" | "fixedBlade" | "foldingBlade";
  /** Point length, 0.1 to 6 in */
  pointLengthIn?: number;
  /** Blades, 2 to 6 */
  bladeCount?: number;
  /** Cutting width, 0.3 to 4 in */
  cuttingWidthIn?: number;
  /** Blade length, 0.2 to 4 in */
  bladeLengthIn?: number;
  /** What the arrow is for */
  purpose?: "target" | "threeD" | "hunting";
  /** Temperature, -40 to 130 °F */
  airTemperatureF?: number;
  /** Altitude, -1500 to 20000 ft */
  altitudeFt?: number;
  /** Pressure where you stand, 13 to 33 inHg */
  stationPressureInHg?: number;
  /** Humidity, 0 to 100 % */
  humidityPercent?: number;
  /** Wind, 0 to 60 mph */
  windMph?: number;
  /** Wind from, 0 to 360 ° */
  windFromDeg?: number;
  /** Flow over the shaft */
  shaftFlow?: "laminar" | "between" | "turbulent";
  /** Speed measured downrange, 50 to 450 fps */
  downrangeSpeedFps?: number;
  /** Measured at, 5 to 150 yd */
  downrangeDistanceYd?: number;
  /** Sight set for, 2 to 150 yd */
  sightedAtYd?: number;
  /** Uphill, -60 to 60 ° */
  slopeDeg?: number;
  /** Size of the ring or zone, 0.5 to 60 in */
  zoneIn?: number;
  /** Eye above the arrow, 0 to 12 in */
  eyeHeightIn?: number;
  /** Eye to sight pin, 10 to 60 in */
  sightRadiusIn?: number;
  /** Arrow above the ground, 0 to 120 in */
  launchHeightIn?: number;
  /** Speed allowed, 100 to 450 fps */
  ruleSpeedFps?: number;
  /** Tolerance on it, 0 to 10 % */
  ruleSpeedTolerancePercent?: number;
  /** Draw weight allowed, 10 to 150 lb */
  ruleDrawWeightLb?: number;
  /** Shaft diameter allowed, 0.15 to 0.6 in */
  ruleDiameterIn?: number;
  /** Least arrow weight, 3 to 20 gr/lb */
  ruleGrPerLb?: number;
  /** Arrows to make, 1 to 144 */
  arrowsToMake?: number;
  /** Spare parts for, 0 to 48 */
  spareParts?: number;
  /** Arrows that belong together, 2 to 144 */
  setSize?: number;
  /** This much weight, 0.1 to 50 gr */
  weightWorthGr?: number;
  /** counts as this much spine, 0.5 to 100 */
  spineWorthThousandths?: number;
  /** Spread in height to stay within, 0.1 to 24 in */
  heightWantedIn?: number;
  /** Bow held in */
  hand?: "left" | "right";
  /** Steps of your rule, 0 to 0.5 in */
  ruleStepIn?: number;
  /** Steps of your bow scale, 0 to 5 lb */
  bowScaleStepLb?: number;
  /** Steps of your chronograph, 0 to 10 fps */
  chronographStepFps?: number;
  /** Steps of your grain scale, 0.1 to 20 gr */
  grainScaleStepGr?: number;
  /** Finished arrow, weighed, 100 to 1500 gr */
  finishedWeightGr?: number;
  /** Balance point, measured, 5 to 40 in */
  finishedBalanceIn?: number;
  /** Span of the rig, 10 to 40 in */
  rigSpanIn?: number;
  /** Weight hung on it, 0.2 to 10 lb */
  rigWeightLb?: number;
  /** Sag read off the dial, 0.02 to 3 in */
  rigReadingIn?: number;
  /** Steps of the dial, 0.0001 to 0.1 in */
  dialStepIn?: number;
  /** Width of the nock's throat, 0.05 to 0.25 in */
  nockThroatIn?: number;
  /** Served string, 0.05 to 0.25 in */
  servedStringIn?: number;
  /** Insert, outer diameter, 0.05 to 0.5 in */
  insertOuterIn?: number;
  /** Nock or bushing, outer diameter, 0.05 to 0.5 in */
  bushingOuterIn?: number;
  /** Room beside the arrow, 0.1 to 4 in */
  clearanceIn?: number;
}

/** Every result by key. Units are in the keys; null where there is no answer. */
export interface Results {
  /** Total weight, gr */
  totalWeightGr: number | null;
  /** Bare shaft weight, gr */
  shaftWeightGr: number | null;
  /** Arrow weight for the draw weight, gr/lb */
  grainsPerPound: number | null;
  /** Arrow length, in */
  arrowLengthIn: number | null;
  /** Balance point from the throat, in */
  balancePointIn: number | null;
  /** FOC, front of centre, % */
  frontOfCentrePercent: number | null;
  /** True draw, in */
  trueDrawIn: number | null;
  /** Power stroke, in */
  strokeIn: number | null;
  /** Rest ahead of the throat at full draw, in */
  restPlaceIn: number | null;
  /** Energy stored at full draw, ft·lb */
  storedEnergyFtLb: number | null;
  /** Energy given to arrow and limbs, ft·lb */
  deliveredEnergyFtLb: number | null;
  /** Virtual mass with what hangs on the string, gr */
  movingMassGr: number | null;
  /** Launch speed, fps */
  launchSpeedFps: number | null;
  /** How far off the speed may be, fps */
  speedSpreadFps: number | null;
  /** Kinetic energy, ft·lb */
  kineticEnergyFtLb: number | null;
  /** Momentum, slug·ft/s */
  momentumSlugFps: number | null;
  /** Part of the stored energy the arrow takes, % */
  efficiencyPercent: number | null;
  /** Peak acceleration, m/s² */
  peakAcceleration: number | null;
  /** Acceleration that would buckle it, m/s² */
  criticalAcceleration: number | null;
  /** Column load */
  columnLoad: number | null;
  /** Column load that shoots well */
  targetLoad: number | null;
  /** Draw weight this arrow suits best, lb */
  idealDrawWeightLb: number | null;
  /** Suits from, lb */
  suitsFromLb: number | null;
  /** Suits up to, lb */
  suitsToLb: number | null;
  /** Ideal static spine */
  idealSpineThousandths: number | null;
  /** Nearest in your list */
  nearestStockThousandths: number | null;
  /** Point that would match, gr */
  pointForMatchGr: number | null;
  /** Lightest point that suits, gr */
  lightestPointGr: number | null;
  /** Heaviest point that suits, gr */
  heaviestPointGr: number | null;
  /** Cut that would match, in */
  cutForMatchIn: number | null;
  /** Shortest cut that suits, in */
  shortestCutIn: number | null;
  /** Longest cut that suits, in */
  longestCutIn: number | null;
  /** Suggested arrow length, in */
  suggestedLengthIn: number | null;
  /** Suggested cut length, in */
  suggestedCutIn: number | null;
  /** Shortest safe arrow length, in */
  shortestSafeLengthIn: number | null;
  /** Shortest safe cut length, in */
  shortestSafeCutIn: number | null;
}

/** Lists of readings by key: an array of rows, null where a row lacks an optional number. */
export interface Lists {
  /** Distances, at most 24 rows */
  distances?: [distanceYd: number][];
  /** Shafts or arrows of a batch, at most 144 rows */
  batch?: [weightGr: number, spine1Thousandths: number | null, spine2Thousandths: number | null, spine3Thousandths: number | null, spine4Thousandths: number | null, straightnessIn: number | null, balanceIn: number | null][];
  /** Bare shafts beside fletched, at most 40 rows */
  tuning?: [distanceYd: number, rightIn: number | null, upIn: number | null, drawWeightLb: number | null, pointGr: number | null, cutIn: number | null, spineThousandths: number | null, tear: number | null][];
  /** Prices of one, in your currency, at most 9 rows */
  prices?: [price: number | null][];
  /** Draw-force readings, at most 64 rows */
  drawForce?: [stringToPivotIn: number, forceLb: number][];
  /** Chronograph readings, at most 40 rows */
  speeds?: [arrowGr: number, speedFps: number][];
}

/** A part anywhere on the arrow. */
export interface OwnPart {
  /** Name */
  name: string;
  /** Weight, 0 to 500 gr */
  massGr: number;
  /** Centre from the throat, 0 to 45 in */
  centreIn: number;
  /** Length, 0 to 12 in */
  lengthIn: number;
}

/** A shaft to choose from. */
export interface StockShaft {
  /** Name */
  name: string;
  /** Static spine, 100 to 3000 */
  staticSpineThousandths: number;
  /** Weight, 1 to 60 gr/in */
  shaftGrPerIn: number;
  /** Outer diameter, 0.1 to 0.6 in */
  outerDiameterIn: number;
  /** Inner diameter, 0.05 to 0.5 in */
  boreIn: number;
}

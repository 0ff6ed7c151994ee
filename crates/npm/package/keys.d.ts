// Written by scripts/write-form from the tables in crates/core/src/schema. Do not edit.

/** Values of inputs by key. Units are in the keys; an input left out has its default. */
export interface Inputs {
  /** Draw weight, 5 to 150 lb */
  peakDrawWeightLb?: number;
  /** Draw weight from */
  drawWeightFrom?: "scale" | "label";
  /** Marked weight, 5 to 150 lb */
  markedWeightLb?: number;
  /** Marked at, 15 to 36 in */
  markedDrawLengthIn?: number;
  /** Draw length, 15 to 36 in */
  drawLengthIn?: number;
  /** Draw length from */
  drawLengthFrom?: "measured" | "armSpan";
  /** Arm span, 40 to 100 in */
  armSpanIn?: number;
  /** Bow type */
  bowKind?: "compound" | "recurve" | "longbow";
  /** Release */
  launch?: "releaseAid" | "fingersCentreCut" | "fingersShelf";
  /** Let-off, 0 to 99 % */
  letOffPercent?: number;
  /** Cam */
  cam?: "soft" | "medium" | "hard";
  /** Brace height, 3 to 12 in */
  braceHeightIn?: number;
  /** Rest position, -8 to 6 in */
  restOffsetIn?: number;
  /** Rest support, 0 to 100 % */
  restHoldsPercent?: number;
  /** Rest from center, 0 to 0.8 in */
  restAsideIn?: number;
  /** Minimum shaft past rest, 0 to 6 in */
  shortestReachIn?: number;
  /** Room to grow, 0 to 6 in */
  growthAllowanceIn?: number;
  /** Minimum arrow weight, 5 to 20 gpp */
  makersMinimumGrPerLb?: number;
  /** Rated speed, 80 to 450 fps */
  ratedSpeedFps?: number;
  /** Rating */
  ratedUnder?: "fiveGrainsPerPound" | "olderAmo" | "own";
  /** Rating draw weight, 10 to 150 lb */
  ratingDrawWeightLb?: number;
  /** Rating draw length, 20 to 36 in */
  ratingDrawLengthIn?: number;
  /** Rating arrow weight, 100 to 1000 gr */
  ratingArrowGr?: number;
  /** Chronograph speed, 50 to 450 fps */
  chronographSpeedFps?: number;
  /** Chronograph arrow, 100 to 1500 gr */
  chronographArrowGr?: number;
  /** String weight at nock, 0 to 200 gr */
  stringAtNockGr?: number;
  /** String accessories, 0 to 300 gr */
  stringSpreadGr?: number;
  /** Virtual mass, 5 to 600 gr */
  virtualMassGr?: number;
  /** Hysteresis loss, 0 to 60 % */
  energyLossPercent?: number;
  /** Reference arrow load, 0.1 to 5 */
  provenColumnLoad?: number;
  /** Nock */
  nockKind?: "plain" | "lighted" | "pin";
  /** Nock weight, 0 to 100 gr */
  nockGr?: number;
  /** Nock groove to shaft, 0 to 2 in */
  throatToShaftIn?: number;
  /** Bushing weight, 0 to 100 gr */
  bushingGr?: number;
  /** Bushing length, 0 to 2 in */
  bushingLengthIn?: number;
  /** Vanes, 0 to 6 */
  vaneCount?: number;
  /** Vane type */
  vaneMaterial?: "plastic" | "feather";
  /** Vane weight, 0 to 50 gr */
  vaneGr?: number;
  /** Vane length, 0.2 to 8 in */
  vaneLengthIn?: number;
  /** Vane height, 0.05 to 2 in */
  vaneHeightIn?: number;
  /** Nock groove to vane, 0 to 10 in */
  vaneSetBackIn?: number;
  /** Vane shape */
  vaneOutline?: "parabolic" | "shield" | "straight" | "low";
  /** Vane offset, 0 to 10 ° */
  vaneOffsetDeg?: number;
  /** Target stability margin, 0 to 60 % */
  marginWantedPercent?: number;
  /** Wrap weight, 0 to 50 gr */
  wrapGr?: number;
  /** Wrap length, 0.5 to 12 in */
  wrapLengthIn?: number;
  /** Fletching glue, 0 to 30 gr */
  rearGlueGr?: number;
  /** Shaft material */
  shaftMaterial?: "carbon" | "aluminum" | "wood";
  /** Static spine, 100 to 3000 */
  staticSpineThousandths?: number;
  /** Cut length, 10 to 40 in */
  cutLengthIn?: number;
  /** Shaft weight per inch, 1 to 60 gpi */
  shaftGrPerIn?: number;
  /** Bare shaft weight, 30 to 1500 gr */
  bareShaftGr?: number;
  /** Straightness, 0.0005 to 0.05 in */
  shaftBowIn?: number;
  /** Outside diameter, 0.1 to 0.6 in */
  outerDiameterIn?: number;
  /** Wall thickness, 0.005 to 0.1 in */
  wallIn?: number;
  /** Inside diameter, 0 to 0.5 in */
  boreIn?: number;
  /** Insert type */
  insertKind?: "insert" | "halfOut" | "outsert" | "glueIn" | "glueOn";
  /** Insert weight, 0 to 250 gr */
  insertGr?: number;
  /** Insert depth, 0 to 6 in */
  insertInsideIn?: number;
  /** Insert stick-out, 0 to 4 in */
  insertAheadIn?: number;
  /** Insert material */
  insertMaterial?: "aluminium" | "steel" | "titanium" | "brass";
  /** Collar weight, 0 to 100 gr */
  collarGr?: number;
  /** Collar length, 0 to 2 in */
  collarLengthIn?: number;
  /** Footer weight, 0 to 150 gr */
  sleeveGr?: number;
  /** Footer length, 0.1 to 8 in */
  sleeveLengthIn?: number;
  /** Insert glue, 0 to 30 gr */
  frontGlueGr?: number;
  /** Point weight, 10 to 600 gr */
  pointGr?: number;
  /** Point type */
  pointKind?: "field" | "fixedBlade" | "foldingBlade";
  /** Point length, 0.1 to 6 in */
  pointLengthIn?: number;
  /** Blades, 2 to 6 */
  bladeCount?: number;
  /** Cutting width, 0.3 to 4 in */
  cuttingWidthIn?: number;
  /** Blade length, 0.2 to 4 in */
  bladeLengthIn?: number;
  /** Use */
  purpose?: "target" | "threeD" | "hunting";
  /** Temperature, -40 to 130 °F */
  airTemperatureF?: number;
  /** Altitude, -1500 to 20000 ft */
  altitudeFt?: number;
  /** Station pressure, 13 to 33 inHg */
  stationPressureInHg?: number;
  /** Humidity, 0 to 100 % */
  humidityPercent?: number;
  /** Wind, 0 to 60 mph */
  windMph?: number;
  /** Wind from, 0 to 360 ° */
  windFromDeg?: number;
  /** Flow over the shaft */
  shaftFlow?: "laminar" | "between" | "turbulent";
  /** Downrange speed, 50 to 450 fps */
  downrangeSpeedFps?: number;
  /** Downrange distance, 5 to 150 yd */
  downrangeDistanceYd?: number;
  /** Sighted in at, 2 to 150 yd */
  sightedAtYd?: number;
  /** Shot angle, -60 to 60 ° */
  slopeDeg?: number;
  /** Ring or vital zone, 0.5 to 60 in */
  zoneIn?: number;
  /** Peep height above arrow, 0 to 12 in */
  eyeHeightIn?: number;
  /** Peep to pin, 10 to 60 in */
  sightRadiusIn?: number;
  /** Release height, 0 to 120 in */
  launchHeightIn?: number;
  /** Speed limit, 100 to 450 fps */
  ruleSpeedFps?: number;
  /** Speed tolerance, 0 to 10 % */
  ruleSpeedTolerancePercent?: number;
  /** Draw weight limit, 10 to 150 lb */
  ruleDrawWeightLb?: number;
  /** Shaft diameter limit, 0.15 to 0.6 in */
  ruleDiameterIn?: number;
  /** Minimum GPP, 3 to 20 gpp */
  ruleGrPerLb?: number;
  /** Arrows to make, 1 to 144 */
  arrowsToMake?: number;
  /** Spare sets of parts, 0 to 48 */
  spareParts?: number;
  /** Arrows in a set, 2 to 144 */
  setSize?: number;
  /** Weight difference, 0.1 to 50 gr */
  weightWorthGr?: number;
  /** Equals spine difference, 0.5 to 100 */
  spineWorthThousandths?: number;
  /** Allowed vertical spread, 0.1 to 24 in */
  heightWantedIn?: number;
  /** Archer */
  hand?: "left" | "right";
  /** Ruler resolution, 0 to 0.5 in */
  ruleStepIn?: number;
  /** Bow scale resolution, 0 to 5 lb */
  bowScaleStepLb?: number;
  /** Chronograph resolution, 0 to 10 fps */
  chronographStepFps?: number;
  /** Grain scale resolution, 0.1 to 20 gr */
  grainScaleStepGr?: number;
  /** Finished arrow weight, 100 to 1500 gr */
  finishedWeightGr?: number;
  /** Measured balance point, 5 to 40 in */
  finishedBalanceIn?: number;
  /** Support span, 10 to 40 in */
  rigSpanIn?: number;
  /** Test weight, 0.2 to 10 lb */
  rigWeightLb?: number;
  /** Deflection, 0.02 to 3 in */
  rigReadingIn?: number;
  /** Dial resolution, 0.0001 to 0.1 in */
  dialStepIn?: number;
  /** Nock groove width, 0.05 to 0.25 in */
  nockThroatIn?: number;
  /** Serving diameter, 0.05 to 0.25 in */
  servedStringIn?: number;
  /** Insert outside diameter, 0.05 to 0.5 in */
  insertOuterIn?: number;
  /** Nock or bushing diameter, 0.05 to 0.5 in */
  bushingOuterIn?: number;
  /** Vane clearance, 0.1 to 4 in */
  clearanceIn?: number;
}

/** Every result by key. Units are in the keys; null where there is no answer. */
export interface Results {
  /** Total weight, gr */
  totalWeightGr: number | null;
  /** Bare shaft weight, gr */
  shaftWeightGr: number | null;
  /** Grains per pound (GPP), gpp */
  grainsPerPound: number | null;
  /** Arrow length, in */
  arrowLengthIn: number | null;
  /** Balance point (from nock groove), in */
  balancePointIn: number | null;
  /** FOC, % */
  frontOfCentrePercent: number | null;
  /** True draw, in */
  trueDrawIn: number | null;
  /** Power stroke, in */
  strokeIn: number | null;
  /** Nock groove to rest at full draw, in */
  restPlaceIn: number | null;
  /** Stored energy, ft-lb */
  storedEnergyFtLb: number | null;
  /** Energy delivered, ft-lb */
  deliveredEnergyFtLb: number | null;
  /** Virtual mass, with string accessories, gr */
  movingMassGr: number | null;
  /** Launch speed, fps */
  launchSpeedFps: number | null;
  /** Speed, plus or minus, fps */
  speedSpreadFps: number | null;
  /** Kinetic energy, ft-lb */
  kineticEnergyFtLb: number | null;
  /** Momentum, slug·ft/s */
  momentumSlugFps: number | null;
  /** Efficiency, % */
  efficiencyPercent: number | null;
  /** Peak acceleration, m/s² */
  peakAcceleration: number | null;
  /** Buckling acceleration, m/s² */
  criticalAcceleration: number | null;
  /** Column load */
  columnLoad: number | null;
  /** Target column load */
  targetLoad: number | null;
  /** Best-match draw weight, lb */
  idealDrawWeightLb: number | null;
  /** Match band from, lb */
  suitsFromLb: number | null;
  /** Match band up to, lb */
  suitsToLb: number | null;
  /** Ideal spine */
  idealSpineThousandths: number | null;
  /** Closest shaft in your list */
  nearestStockThousandths: number | null;
  /** Spine in pounds, lb */
  spinePoundsLb: number | null;
  /** Best-match point weight, gr */
  pointForMatchGr: number | null;
  /** Lightest point in range, gr */
  lightestPointGr: number | null;
  /** Heaviest point in range, gr */
  heaviestPointGr: number | null;
  /** Best-match cut length, in */
  cutForMatchIn: number | null;
  /** Shortest cut in range, in */
  shortestCutIn: number | null;
  /** Longest cut in range, in */
  longestCutIn: number | null;
  /** Usual arrow length, in */
  suggestedLengthIn: number | null;
  /** Usual cut length, in */
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
  batch?: [weightGr: number, spine1Thousandths?: number | null, spine2Thousandths?: number | null, spine3Thousandths?: number | null, spine4Thousandths?: number | null, straightnessIn?: number | null, balanceIn?: number | null, number?: number | null][];
  /** Bare shafts beside fletched, at most 40 rows */
  tuning?: [distanceYd: number, rightIn?: number | null, upIn?: number | null, drawWeightLb?: number | null, pointGr?: number | null, cutIn?: number | null, spineThousandths?: number | null, tear?: number | null, shots?: number | null, day?: number | null, kind?: number | null][];
  /** Prices of one, in your currency, at most 9 rows */
  prices?: [price: number | null][];
  /** Draw-force readings, at most 64 rows */
  drawForce?: [stringToPivotIn: number, forceLb: number][];
  /** Chronograph readings, at most 40 rows */
  speeds?: [arrowGr: number, speedFps: number][];
  /** Sight marks shot, at most 12 rows */
  sightMarks?: [distanceYd: number, mark: number][];
}

/** A part anywhere on the arrow. */
export interface OwnPart {
  /** Name */
  name: string;
  /** Weight, 0 to 500 gr */
  massGr: number;
  /** Center from nock groove, 0 to 45 in */
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
  /** Weight, 1 to 60 gpi */
  shaftGrPerIn: number;
  /** Outer diameter, 0.1 to 0.6 in */
  outerDiameterIn: number;
  /** Inner diameter, 0 to 0.5 in */
  boreIn: number;
  /** Full length, 0 to 45 in */
  fullLengthIn?: number;
  /** On the rack, 0 to 9999 */
  onRack?: number;
}

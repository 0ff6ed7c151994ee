"""Sets of trapezoidal fins, as RocketPy has them.

RocketPy's damping coefficient is not compared as a whole: it refers the fin's slope to the body's cross-section and
multiplies by an area integral. What goes into it, the integral and the interference factor, is.
"""

from rocketpy.rocket.aero_surface import TrapezoidalFins

SOURCE = "RocketPy 1.13.0, TrapezoidalFins"
CASES = 300
TOLERANCE = {
    "slopeOfOne": 1e-14,
    "interference": 1e-14,
    "slopeOfSet": 1e-14,
    "centreM": 1e-14,
    "rollDrive": 1e-14,
    "meanSquareRadiusM2": 1e-14,
    "driveInterference": 1e-14,
    "dampingInterference": 1e-14,
}


def solve(given):
    fins = TrapezoidalFins(
        given["count"], given["rootM"], given["tipM"], given["spanM"], given["radiusM"], sweep_length=given["sweepM"]
    )
    return {
        "slopeOfOne": fins.clalpha_single_fin(0),
        "interference": fins.lift_interference_factor,
        "slopeOfSet": fins.clalpha_multiple_fins(0),
        "centreM": fins.cpz,
        "rollDrive": fins.roll_parameters[0](0),
        "meanSquareRadiusM2": fins.roll_geometrical_constant / fins.Af,
        "driveInterference": fins.roll_forcing_interference_factor,
        "dampingInterference": fins.roll_damping_interference_factor,
    }

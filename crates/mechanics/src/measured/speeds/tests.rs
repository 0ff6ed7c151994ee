use super::*;
use crate::bow::launch_speed;
use crate::calibration::energy_and_virtual_mass_from_two;
use std::vec::Vec;

fn reading(arrow_mass_kg: f64, speed_m_per_s: f64) -> SpeedReading {
    SpeedReading { arrow_mass_kg, speed_m_per_s }
}

fn errors(readings: &[SpeedReading], resolution: f64) -> SpeedErrors {
    fit_speeds(readings, 0.007).unwrap().errors(readings, resolution).unwrap()
}

fn exact(energy: f64, k: f64, masses: &[f64]) -> Vec<SpeedReading> {
    masses.iter().map(|m| reading(*m, launch_speed(energy, *m, k).unwrap())).collect()
}

#[test]
fn exact_readings_give_energy_and_virtual_mass_back() {
    for (energy, k) in [(95.0, 0.007), (40.0, 0.0), (70.0, 0.02)] {
        for masses in [&[0.02, 0.03][..], &[0.018, 0.022, 0.027, 0.035], &[0.02, 0.02, 0.021, 0.03]] {
            let fit = fit_speeds(&exact(energy, k, masses), 0.01).unwrap();
            assert!(fit.virtual_mass_is_measured);
            assert!((fit.delivered_energy_j / energy - 1.0).abs() < 1e-11, "{fit:?}");
            assert!((fit.virtual_mass_kg - k).abs() < 1e-12, "{fit:?}");
            assert_eq!(errors(&exact(energy, k, masses), 0.0).suspect, None);
        }
    }
}

#[test]
fn two_readings_agree_with_the_formula_for_two() {
    let readings = [reading(0.021, 82.3), reading(0.033, 69.9)];
    let fit = fit_speeds(&readings, 0.0).unwrap();
    let (energy, k) = energy_and_virtual_mass_from_two(82.3, 0.021, 69.9, 0.033).unwrap();
    assert!((fit.delivered_energy_j / energy - 1.0).abs() < 1e-12);
    assert!((fit.virtual_mass_kg - k).abs() < 1e-14);
    assert_eq!((fit.standard_deviation_m_per_s, errors(&readings, 0.0).energy_error_j), (None, None));
}

#[test]
fn two_readings_are_as_sure_as_their_chronograph() {
    // GUM 5.1.2 on the formula for two, each slope by a central difference.
    let (v1, v2, step, h) = (82.3, 69.9, 0.3, 1e-4);
    let k = |v1, v2| energy_and_virtual_mass_from_two(v1, 0.021, v2, 0.033).unwrap().1;
    let by_first = (k(v1 + h, v2) - k(v1 - h, v2)) / (2.0 * h);
    let by_second = (k(v1, v2 + h) - k(v1, v2 - h)) / (2.0 * h);
    let expected = step / sqrt(12.0) * sqrt(by_first * by_first + by_second * by_second);
    let fit = errors(&[reading(0.021, v1), reading(0.033, v2)], step);
    assert!((fit.virtual_mass_error_kg.unwrap() / expected - 1.0).abs() < 1e-7, "{fit:?}");
    let energy = |v1, v2| energy_and_virtual_mass_from_two(v1, 0.021, v2, 0.033).unwrap().0;
    let by_first = (energy(v1 + h, v2) - energy(v1 - h, v2)) / (2.0 * h);
    let by_second = (energy(v1, v2 + h) - energy(v1, v2 - h)) / (2.0 * h);
    let expected = step / sqrt(12.0) * sqrt(by_first * by_first + by_second * by_second);
    assert!((fit.energy_error_j.unwrap() / expected - 1.0).abs() < 1e-7, "{fit:?}");
}

#[test]
fn one_mass_leaves_the_virtual_mass_assumed_and_shows_the_spread() {
    // The fit of one mass is the mean speed, with the standard deviation and error of a mean.
    let speeds = [80.1, 80.4, 79.9, 80.0];
    let readings = speeds.map(|v| reading(0.022, v));
    let fit = fit_speeds(&readings, 0.007).unwrap();
    let off = fit.errors(&readings, 0.0).unwrap();
    let mean = 80.1;
    let deviation = sqrt(speeds.iter().map(|v| (v - mean) * (v - mean)).sum::<f64>() / 3.0);
    assert!(!fit.virtual_mass_is_measured && off.virtual_mass_error_kg.is_none());
    assert!((fit.delivered_energy_j - 0.5 * 0.029 * mean * mean).abs() < 1e-11);
    assert!((fit.standard_deviation_m_per_s.unwrap() - deviation).abs() < 1e-12);
    // dE/dv = (m + K) v, and the mean of 4 has half the deviation.
    assert!((off.energy_error_j.unwrap() - 0.029 * mean * 0.5 * deviation).abs() < 1e-11);
    assert!((fit.residual_m_per_s(&reading(0.022, 80.4)) - 0.3).abs() < 1e-12);
    let alone = [reading(0.022, 80.0)];
    assert_eq!(fit_speeds(&alone, 0.007).unwrap().standard_deviation_m_per_s, None);
    assert_eq!(errors(&alone, 0.0).energy_error_j, None);
}

#[test]
fn masses_too_alike_leave_the_virtual_mass_assumed() {
    let fit = |heavier| fit_speeds(&exact(90.0, 0.005, &[0.02, heavier]), 0.007).unwrap();
    assert!(!fit(0.0209).virtual_mass_is_measured);
    assert!(fit(0.0211).virtual_mass_is_measured);
}

#[test]
fn the_fit_is_the_least_sum_of_squares_in_speed() {
    let readings = [reading(0.02, 81.0), reading(0.024, 76.1), reading(0.03, 69.0), reading(0.036, 64.1)];
    let fit = fit_speeds(&readings, 0.0).unwrap();
    let sum = |energy: f64, k: f64| -> f64 {
        readings
            .iter()
            .map(|r| r.speed_m_per_s - launch_speed(energy, r.arrow_mass_kg, k).unwrap())
            .map(|r| r * r)
            .sum()
    };
    let (energy, k) = (fit.delivered_energy_j, fit.virtual_mass_kg);
    let least = sum(energy, k);
    for (by_energy, by_mass) in [(1e-4, 0.0), (-1e-4, 0.0), (0.0, 1e-7), (0.0, -1e-7), (1e-3, 3e-7), (-1e-3, -3e-7)] {
        assert!(sum(energy + by_energy, k + by_mass) > least);
    }
    assert!((fit.standard_deviation_m_per_s.unwrap() - sqrt(least / 2.0)).abs() < 1e-12);
}

#[test]
fn a_slip_of_the_pen_is_named_and_still_counts() {
    let mut readings = exact(90.0, 0.006, &[0.02, 0.02, 0.024, 0.024, 0.03, 0.03]);
    for (reading, noise) in readings.iter_mut().zip([0.1, -0.1, 0.05, 0.1, -0.1, 0.0]) {
        reading.speed_m_per_s += noise;
    }
    assert_eq!(errors(&readings, 0.1).suspect, None);
    readings[2].speed_m_per_s -= 5.0;
    let fit = fit_speeds(&readings, 0.006).unwrap();
    let suspect = fit.errors(&readings, 0.1).unwrap().suspect.unwrap();
    assert_eq!(suspect.index, 2);
    assert!(suspect.studentized < -10.0 && suspect.chance < 0.01, "{suspect:?}");
    assert!((suspect.residual_m_per_s - fit.residual_m_per_s(&readings[2])).abs() < 1e-12);
    let without: Vec<_> = [&readings[..2], &readings[3..]].concat();
    let cleaner = fit_speeds(&without, 0.006).unwrap();
    assert!((cleaner.delivered_energy_j - fit.delivered_energy_j).abs() > 0.1, "it counted");
}

#[test]
fn one_step_of_the_chronograph_is_no_outlier() {
    let speeds = [80.0, 80.0, 80.0, 80.0, 80.0, 80.0, 80.3];
    let readings = speeds.map(|v| reading(0.022, v));
    assert_eq!(errors(&readings, 0.3).suspect, None);
    assert_eq!(errors(&readings, 0.0).suspect.map(|suspect| suspect.index), Some(6));
}

#[test]
fn readings_of_one_mass_are_judged_by_the_printed_values_of_grubbs() {
    // Two-sided 5 % critical values: Chemistry LibreTexts, Analytic References, Appendix 07 (its value
    // for 7, 2.202, is a misprint of 2.020 and left out). G = |x - mean| / s of the furthest reading.
    for (count, critical) in
        [(4, 1.481), (5, 1.715), (6, 1.887), (8, 2.126), (9, 2.215), (10, 2.290), (12, 2.412), (14, 2.507)]
    {
        assert!(!is_named(count, critical - 1e-3) && is_named(count, critical + 1e-3), "{count}");
    }
}

/// Whether the fit names a reading whose Grubbs statistic among `count` is `wanted`.
fn is_named(count: usize, wanted: f64) -> bool {
    let speeds = |out: f64| -> Vec<f64> {
        (0..count)
            .map(|i| {
                80.0 + if i == 0 {
                    out
                } else if i % 2 == 1 {
                    0.1
                } else {
                    -0.1
                }
            })
            .collect()
    };
    let grubbs = |out: f64| {
        let speeds = speeds(out);
        let mean = speeds.iter().sum::<f64>() / count as f64;
        let squares: f64 = speeds.iter().map(|v| (v - mean) * (v - mean)).sum();
        (speeds[0] - mean).abs() / sqrt(squares / (count - 1) as f64) - wanted
    };
    let found = crate::find_root(|out| Ok(grubbs(out)), 0.15, 20.0, 1e-9).unwrap();
    let crate::Solution::At(out) = found else { panic!("{found:?}") };
    let readings: Vec<_> = speeds(out).into_iter().map(|v| reading(0.022, v)).collect();
    errors(&readings, 0.0).suspect.is_some_and(|suspect| suspect.index == 0)
}

#[test]
fn a_reading_the_fit_must_follow_is_not_judged() {
    // Alone at its mass, the last has leverage 1.
    let readings =
        [reading(0.02, 80.0), reading(0.02, 80.2), reading(0.02, 79.9), reading(0.02, 80.1), reading(0.03, 70.0)];
    assert_eq!(errors(&readings, 0.0).suspect, None);
    // Nor does it hide another that is judged.
    for heavier in 25..40_u32 {
        let alone = exact(86.4, 0.007, &[1e-3 * f64::from(heavier)]);
        let others = [80.0, 80.2, 79.9, 80.1, 80.0, 80.1, 84.0].map(|v| reading(0.02, v));
        let suspect = errors(&[&others[..], &alone[..]].concat(), 0.0).suspect;
        assert_eq!(suspect.map(|suspect| suspect.index), Some(6), "{heavier}");
    }
}

#[test]
fn readings_that_contradict_every_bow_are_refused() {
    let parameter = |readings: &[SpeedReading]| match fit_speeds(readings, 0.007).unwrap_err() {
        Error::OutOfRange { parameter, .. } => parameter,
        other => panic!("{other}"),
    };
    let heavier_faster = [reading(0.02, 80.0), reading(0.03, 81.0)];
    assert_eq!(parameter(&heavier_faster), Parameter::Energy);
    assert_eq!(parameter(&[reading(0.02, 80.0), reading(0.03, 80.0)]), Parameter::Energy);
    let less_energy = [reading(0.02, 80.0), reading(0.03, 60.0)];
    assert_eq!(parameter(&less_energy), Parameter::VirtualMass);
    let hardly_slower = [reading(0.02, 80.0), reading(0.03, 79.8)];
    assert_eq!(parameter(&hardly_slower), Parameter::VirtualMass);
    assert_eq!(parameter(&[]), Parameter::Readings);
    assert_eq!(parameter(&[reading(0.02, f64::NAN)]), Parameter::Speed);
}

#[test]
fn the_straight_line_through_exact_readings_is_the_bow() {
    for (energy, k) in [(95.0, 0.007), (40.0, 0.0)] {
        let line = straight_line(&exact(energy, k, &[0.018, 0.022, 0.035])).unwrap();
        assert!((line - k).abs() < 1e-15, "{line}");
    }
}

#[test]
fn a_virtual_mass_below_nothing_by_rounding_is_none() {
    assert_eq!(checked_virtual_mass(-5e-10), Ok(0.0));
    assert_eq!(checked_virtual_mass(0.003), Ok(0.003));
    assert!(checked_virtual_mass(-2e-9).is_err() && checked_virtual_mass(-0.003).is_err());
}

#[test]
fn rounding_is_no_outlier() {
    // Six alike and one that differs by half of a thousand-millionth, or by a hundred of them.
    let named = |by: f64| {
        let speeds = [80.0, 80.0, 80.0, 80.0, 80.0, 80.0, 80.0 * (1.0 + by)];
        errors(&speeds.map(|v| reading(0.022, v)), 0.0).suspect.map(|suspect| suspect.index)
    };
    assert_eq!((named(5e-10), named(1e-7)), (None, Some(6)));
}

#[test]
fn every_step_leads_nearer_and_stays_before_the_pole() {
    // From far off the full step goes beyond m + K = 0, where there is no speed, or so near that it does harm.
    let beyond = [reading(0.02, 81.0), reading(0.024, 70.1), reading(0.03, 71.0), reading(0.036, 60.1)];
    let near = [reading(0.02, 87.163), reading(0.024_604, 83.976)];
    for (readings, start, full_step_ends_beyond) in [(&beyond[..], 0.45, true), (&near[..], 0.1, false)] {
        let model = Model::at(readings, start);
        let full = Model::at(readings, start + model.step(readings));
        assert_eq!(0.02 + full.virtual_mass < 0.0, full_step_ends_beyond, "{}", full.virtual_mass);
        let nearer = |other: &Model| other.sum_of_squares(readings) < model.sum_of_squares(readings);
        assert!(!nearer(&full), "{start}");
        let next = model.improved(readings, 0.02).unwrap();
        assert!(0.02 + next.virtual_mass > 0.0 && nearer(&next), "{start}: {}", next.virtual_mass);
    }
    // Less than nothing is not avoided on the way: it is refused at the end.
    let less_energy = [reading(0.02, 80.0), reading(0.03, 60.0)];
    let next = Model::at(&less_energy, 0.0).improved(&less_energy, 0.02).unwrap();
    assert!((-0.02..-0.001).contains(&next.virtual_mass), "{}", next.virtual_mass);
}

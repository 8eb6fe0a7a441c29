//! Published values of colour, from the tables in `tests/data/`; each test names its source.

use std::collections::BTreeMap;

use palette::white_point::D65;
use palette::{IntoColor, Lab, Xyz};

use super::Rgb;
use super::contrast::contrast;
use super::difference::{lab, of_lab};
use super::vision::Vision;

/// The rows of a table, by heading.
fn rows(table: &str) -> Vec<BTreeMap<String, String>> {
    let mut reader = csv::Reader::from_path(format!("tests/data/{table}.csv")).unwrap();
    reader.deserialize().map(Result::unwrap).collect()
}

fn figure(row: &BTreeMap<String, String>, heading: &str) -> f64 {
    row[heading].parse().unwrap()
}

fn rgb(text: &str) -> Rgb {
    let all = u32::from_str_radix(text.strip_prefix('#').unwrap(), 16).unwrap();
    let [_, red, green, blue] = all.to_be_bytes();
    Rgb { red, green, blue }
}

fn vision(deficiency: &str) -> Vision {
    match deficiency {
        "protanomaly" => Vision::Protan,
        "deuteranomaly" => Vision::Deutan,
        "tritanomaly" => Vision::Tritan,
        other => panic!("no deficiency is called {other}"),
    }
}

/// G. Sharma, W. Wu, E. Dalal, Color Res. Appl. 30(1) (2005) 21–30, Table 1. Either order.
#[test]
fn the_difference_of_the_published_pairs_is_the_published_one() {
    let pairs = rows("ciede2000");
    assert_eq!(pairs.len(), 34);
    for row in pairs {
        let lab = |l, a, b| Lab::<D65, f64>::new(figure(&row, l), figure(&row, a), figure(&row, b));
        let (one, other) = (lab("L1", "a1", "b1"), lab("L2", "a2", "b2"));
        for found in [of_lab(one, other), of_lab(other, one)] {
            assert!((found - figure(&row, "dE00")).abs() < 1e-4, "{found}: {row:?}");
        }
    }
}

/// IEC 61966-2-1; CSS Color 4 where the row says so. Linear light to the table's tolerance; XYZ and
/// Lab to that of the matrix, which is rounded to seven decimals and takes D65 as (0.95047, 1,
/// 1.08883): some hundredths of Lab, far below what is seen.
#[test]
fn linear_light_and_lab_of_a_colour_are_the_published_ones() {
    let table = rows("srgb");
    assert!(table.len() >= 20);
    for row in table {
        let linear = rgb(&row["hex"]).linear();
        let found = match row["what"].as_str() {
            "linear" => [linear.red, linear.green, linear.blue],
            "xyz_d65" => {
                let xyz: Xyz<D65, f64> = linear.into_color();
                [xyz.x, xyz.y, xyz.z]
            }
            "lab_d65" => {
                let lab = lab(linear);
                [lab.l, lab.a, lab.b]
            }
            other => panic!("no test of {other}"),
        };
        let tolerance: f64 = match row["what"].as_str() {
            "xyz_d65" => 4e-4,
            "lab_d65" => 0.02,
            _ => figure(&row, "tol"),
        };
        for (found, heading) in found.into_iter().zip(["v1", "v2", "v3"]) {
            assert!((found - figure(&row, heading)).abs() <= tolerance, "{found}: {row:?}");
        }
    }
}

/// Machado, Oliveira, Fernandes, IEEE TVCG 15(6) (2009) 1291–1298, at severity 1.0.
#[test]
fn the_matrices_are_the_published_ones() {
    let mut seen = 0;
    for row in rows("machado").iter().filter(|row| row["severity"] == "1.0") {
        let matrix = vision(&row["type"]).matrix().unwrap();
        let published = ["c1", "c2", "c3"].map(|column| figure(row, column));
        assert_eq!(matrix[row["row"].parse::<usize>().unwrap() - 1], published, "{row:?}");
        seen += 1;
    }
    assert_eq!(seen, 9);
}

/// The same matrices on linear RGB, cut off and encoded; two libraries agree on the table.
#[test]
fn colours_are_seen_as_the_table_says() {
    let mut seen = 0;
    for row in rows("cvd").iter().filter(|row| row["severity"] == "1.0") {
        let linear = vision(&row["type"]).sees(rgb(&row["hex"]).linear());
        assert_eq!(Rgb::nearest_to(linear), rgb(&row["simulated"]), "{row:?}");
        seen += 1;
    }
    assert!(seen >= 30, "{seen} rows");
}

/// W3C: WCAG 2.2, its techniques and test rules; published ratios are cut or rounded,
/// computed ones use luminance weights of four decimals, ours seven.
#[test]
fn contrast_ratios_are_the_published_ones() {
    let table = rows("contrast");
    assert!(table.len() >= 11);
    for row in table {
        let found = contrast(rgb(&row["a"]), rgb(&row["b"]));
        assert!((found - figure(&row, "computed")).abs() < 5e-3, "{found}: {row:?}");
        assert!((found - figure(&row, "published")).abs() <= 0.1, "{found}: {row:?}");
    }
}

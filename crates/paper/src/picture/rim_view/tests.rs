use super::*;

fn work(number: usize, angle_deg: f64) -> Work {
    Work {
        number,
        shape: FeatureShape::AxialCylinder {
            diameter_mm: 2.0,
            radius_mm: 26.0,
            angle_deg,
            x_mm: (18.0, 21.5),
        },
        comes_off: true,
        words: format!("drill 2 mm, 3.5 mm deep, at {angle_deg}°"),
    }
}

fn view(works: Vec<Work>) -> RimView {
    RimView {
        heading: "Left rim".to_owned(),
        seen_from: "seen from the left".to_owned(),
        mark: "mark".to_owned(),
        grows: Turn::Clockwise,
        edges: vec![Edge {
            radius_mm: 29.0,
            what: "rim".to_owned(),
        }],
        places: Some((26.0, 24, 0.0)),
        works,
    }
}

#[test]
fn law_a_hole_is_drawn_where_its_angle_says() {
    let scale = Scale::new(&view(Vec::new()));
    let (x, y) = scale.at(Turn::Clockwise, 29.0, 90.0);
    assert!((x - MIDDLE.0 - RADIUS).abs() < 1e-9 && (y - MIDDLE.1).abs() < 1e-9);
    let (x, _) = scale.at(Turn::Counterclockwise, 29.0, 90.0);
    assert!((x - MIDDLE.0 + RADIUS).abs() < 1e-9);
}

#[test]
fn law_every_work_is_on_the_list_and_told_to_a_screen_reader() {
    let drawing = rim_view_drawing(&view(vec![work(1, 15.0), work(2, 150.0)]));
    let svg = drawing.to_svg();
    for angle in ["at 15°", "at 150°"] {
        assert!(svg.matches(angle).count() >= 2, "{angle}");
    }
    assert!(
        rim_view_drawing(&view(Vec::new()))
            .to_svg()
            .contains("Nothing to do")
    );
}

#[test]
fn law_a_view_without_sizes_is_drawn_without_nonsense() {
    let mut odd = view(vec![work(1, f64::NAN)]);
    odd.edges.clear();
    let svg = rim_view_drawing(&odd).to_svg();
    assert!(!svg.contains("NaN,") && !svg.contains("\"NaN"), "{svg}");
}

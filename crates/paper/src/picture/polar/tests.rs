use super::*;
use crate::ink::Mark;

fn vector(stands: Stands, size: f64, angle_deg: f64) -> Vector {
    Vector {
        stands,
        label: "it".to_owned(),
        size,
        angle_deg,
        within: None,
    }
}

fn plot(limit: Option<f64>, vectors: Vec<Vector>) -> Polar {
    Polar {
        heading: "Left".to_owned(),
        seen_from: "seen from the left".to_owned(),
        mark: "mark".to_owned(),
        unit: "g·mm".to_owned(),
        grows: Turn::Clockwise,
        spins: Some(Turn::Counterclockwise),
        limit,
        vectors,
    }
}

#[test]
fn law_the_mark_is_at_the_top_and_angles_grow_as_stated() {
    for (turn, side) in [(Turn::Clockwise, 1.0), (Turn::Counterclockwise, -1.0)] {
        let top = turn.direction(0.0);
        let quarter = turn.direction(90.0);
        assert!(top.0.abs() < 1e-12 && (top.1 + 1.0).abs() < 1e-12);
        assert!((quarter.0 - side).abs() < 1e-12 && quarter.1.abs() < 1e-12);
    }
}

#[test]
fn law_a_small_limit_gets_a_close_up_and_a_large_one_does_not() {
    let found = vector(Stands::Found, 3.0, 40.0);
    let left = vector(Stands::Left, 0.1, 200.0);
    let small = plot(Some(0.3), vec![found.clone(), left.clone()]);
    let near = small.close_up().expect("a close-up");
    assert_eq!(near.vectors, vec![left.clone()]);
    assert_eq!(
        plot(Some(1.0), vec![found.clone(), left.clone()]).close_up(),
        None
    );
    assert_eq!(plot(None, vec![found, left]).close_up(), None);
}

#[test]
fn law_no_mark_leaves_the_picture() {
    let many = (0..24)
        .map(|n| vector(Stands::Reading, 1.0, 15.0 * f64::from(n)))
        .chain([
            vector(Stands::Found, 1.0, 0.0),
            vector(Stands::Left, 0.05, 359.9),
        ])
        .collect();
    let plots = [plot(Some(0.1), many), plot(None, Vec::new())];
    let drawing = polar_drawing("Polar", &plots);
    for mark in &drawing.marks {
        let Mark::Text(text) = mark else { continue };
        let style = Style {
            size: text.size,
            weight: text.weight,
            colour: text.colour,
        };
        let wide = style.width(&text.text);
        let left = match text.anchor {
            crate::ink::Anchor::Start => text.at.x,
            crate::ink::Anchor::Middle => text.at.x - wide / 2.0,
            crate::ink::Anchor::End => text.at.x - wide,
        };
        assert!(left >= 0.0 && left + wide <= drawing.width, "{}", text.text);
        assert!(
            text.at.y > 0.0 && text.at.y <= drawing.height,
            "{}",
            text.text
        );
    }
}

#[test]
fn law_what_is_no_number_is_not_drawn_and_does_not_stretch_the_plot() {
    let vectors = vec![
        vector(Stands::Found, f64::NAN, 0.0),
        vector(Stands::Left, 0.2, f64::INFINITY),
    ];
    let svg = polar_drawing("Polar", &[plot(Some(f64::NAN), vectors)]).to_svg();
    assert!(!svg.contains("NaN") && !svg.contains("inf"), "{svg}");
}

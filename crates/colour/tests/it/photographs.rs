use colour::photo::grow::{Reach, grow};
use colour::photo::{Look, Mask, OldColour, Picture, Repaint};
use colour::{Lab, Srgb, difference};

use crate::{Row, rows};

/// A rendered photograph, its zone, the true repaint, the old colour and the new one.
struct Scene {
    name: &'static str,
    photo: Picture,
    mask: Mask,
    truth: Picture,
    old: Lab,
    new: Lab,
}

fn scenes() -> [Scene; 2] {
    let table = rows(include_str!("../data/recolour.csv"));
    [
        scene(
            &table[0],
            "wood",
            include_bytes!("../data/recolour_mid_brown_wood_photo.png"),
            include_bytes!("../data/recolour_mid_brown_wood_mask.png"),
            include_bytes!("../data/recolour_mid_brown_wood_truth.png"),
        ),
        scene(
            &table[1],
            "white",
            include_bytes!("../data/recolour_old_white_photo.png"),
            include_bytes!("../data/recolour_old_white_mask.png"),
            include_bytes!("../data/recolour_old_white_truth.png"),
        ),
    ]
}

fn scene(row: &Row, name: &'static str, photo: &[u8], mask: &[u8], truth: &[u8]) -> Scene {
    let shape = Picture::decode(mask).unwrap();
    let cover = shape.rgb().chunks(3).map(|pixel| pixel[0]).collect();
    let old: Vec<f64> = row["old_reflectance_linear_sRGB"]
        .split(' ')
        .map(|v| v.parse().unwrap())
        .collect();
    let linear = palette::LinSrgb::new(old[0], old[1], old[2]);
    let old: palette::Lab<palette::white_point::D65, f64> = palette::FromColor::from_color(linear);
    Scene {
        name,
        photo: Picture::decode(photo).unwrap(),
        mask: Mask::from_cover(shape.width(), shape.height(), cover).unwrap(),
        truth: Picture::decode(truth).unwrap(),
        old: Lab::new(old.l, old.a, old.b),
        new: Srgb::parse(&row["target_hex"]).unwrap().to_lab(),
    }
}

/// Mean at most 0.8, 95 % at most 2.0, over all pixels of the zone.
#[test]
fn a_repaint_comes_near_the_true_one() {
    for scene in scenes() {
        let ready = Repaint::prepare(scene.photo, scene.mask.clone(), OldColour::Reading(scene.old)).unwrap();
        let painted = ready.paint(&Look::paint(scene.new));
        let at = |picture: &Picture, i: usize| {
            picture
                .pixel(i % picture.width(), i / picture.width())
                .unwrap()
                .to_lab()
        };
        let mut off: Vec<f64> = (0..scene.mask.cover().len())
            .filter(|i| scene.mask.cover()[*i] >= 128)
            .map(|i| difference(at(&painted, i), at(&scene.truth, i)))
            .collect();
        off.sort_by(f64::total_cmp);
        let mean = off.iter().sum::<f64>() / off.iter().map(|_| 1.0).sum::<f64>();
        let most = off[off.len() * 95 / 100];
        println!("{}: mean {mean:.2}, 95 % {most:.2}", scene.name);
        assert!(
            mean <= 0.8 && most <= 2.0,
            "{}: mean {mean:.2}, 95 % {most:.2}",
            scene.name
        );
    }
}

/// What both have over what either has, at least 0.96.
#[test]
fn a_zone_grows_to_its_true_shape() {
    for scene in scenes() {
        for touches in [vec![(190, 150)], vec![(190, 150), (260, 150), (200, 98)]] {
            let grown = grow(&scene.photo, &touches, Reach::default()).unwrap();
            let (mut both, mut either) = (0.0, 0.0);
            for (a, b) in grown.cover().iter().zip(scene.mask.cover()) {
                both += f64::from(u8::from(*a >= 128 && *b >= 128));
                either += f64::from(u8::from(*a >= 128 || *b >= 128));
            }
            println!(
                "{}: {} touches, {:.3} of the union",
                scene.name,
                touches.len(),
                both / either
            );
            assert!(both / either >= 0.96, "{}: {:.3}", scene.name, both / either);
        }
    }
}

//! What must hold for any colour and any film.

use colour::coats::coats_to_hide;
use colour::film::{opaque, over};
use colour::photo::{Look, Mask, OldColour, Picture, Repaint};
use colour::{Hiding, Lab, Light, Spectrum, Srgb, difference};
use proptest::prelude::*;
use quantity::{Spread, WetFilm};

fn any_screen() -> impl Strategy<Value = Srgb> {
    (any::<u8>(), any::<u8>(), any::<u8>()).prop_map(|(r, g, b)| Srgb::new(r, g, b))
}

fn any_lab() -> impl Strategy<Value = Lab> {
    (0.0..100.0, -120.0..120.0, -120.0..120.0).prop_map(|(l, a, b)| Lab::new(l, a, b))
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 128, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn difference_is_symmetric_and_nothing_only_for_the_same(one in any_lab(), other in any_lab()) {
        prop_assert!((difference(one, other) - difference(other, one)).abs() < 1e-9);
        prop_assert!(difference(one, one).abs() < 1e-9);
        prop_assert!(difference(one, other) >= 0.0);
    }

    #[test]
    fn a_film_lies_between_its_backing_and_its_own_colour(k in 0.0..20.0, s in 0.0..20.0, x in 0.0..10.0, g in 0.0..1.0) {
        let r = over(k, s, x, g);
        let own = if s > 0.0 { opaque(k / s) } else { 0.0 };
        prop_assert!(r >= own.min(g) - 1e-9 && r <= own.max(g) + 1e-9, "{r} between {own} and {g}");
    }

    #[test]
    fn screen_colours_have_a_spectrum_and_come_back(colour in any_screen()) {
        let lab = colour.to_lab();
        let (spectrum, apart) = Spectrum::nearest(lab);
        prop_assert!((difference(spectrum.lab(Light::Day), lab) - apart).abs() < 1e-5);
        prop_assert!(spectrum.0.iter().all(|r| (0.0..=1.0).contains(r)));
    }

    #[test]
    fn paint_that_hides_better_needs_no_more_coats(old in any_screen(), new in any_screen(), ratio in 0.3..0.9) {
        let at = Spread::from_m2_per_litre(10.0);
        let count = |ratio| {
            let film = WetFilm::from_um(100.0);
            coats_to_hide(old.to_lab(), new.to_lab(), &Hiding::ContrastRatio { ratio, at }, film).unwrap()
        };
        let (worse, better) = (count(ratio), count(ratio + 0.09));
        prop_assert!(better.priced() <= worse.priced() && worse.planned() <= worse.priced());
    }

    #[test]
    fn any_small_picture_can_be_painted(rgb in prop::collection::vec(any::<u8>(), 9 * 7 * 3), old in any_screen(), new in any_screen()) {
        let picture = Picture::from_rgb(9, 7, rgb).unwrap();
        let mask = Mask::polygon(9, 7, &[(1.0, 1.0), (8.0, 1.5), (4.0, 6.5)]);
        let ready = Repaint::prepare(picture, mask, OldColour::Reading(old.to_lab())).unwrap();
        prop_assert_eq!(ready.paint(&Look::paint(new.to_lab())).rgb().len(), 9 * 7 * 3);
    }
}

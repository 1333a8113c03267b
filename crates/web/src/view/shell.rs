//! The frame of every page: head, header with the ways through the shop, and foot with the light switch.

use std::convert::Infallible;

use axum::extract::FromRequestParts;
use axum::http::header;
use axum::http::request::Parts;
use maud::{DOCTYPE, Markup, PreEscaped, html};

use crate::assets;
use crate::draw::HATCHES;

/// In which light the page is read.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(crate) enum Light {
    /// As the device says.
    #[default]
    Device,
    /// Light, for the yard.
    Yard,
    /// Dark, for the evening.
    Evening,
}

impl Light {
    pub(crate) const EVERY: [(Light, &'static str, &'static str); 3] = [
        (Light::Yard, "yard", "Daylight"),
        (Light::Evening, "evening", "Evening"),
        (Light::Device, "device", "As the device"),
    ];

    pub(crate) fn parse(word: &str) -> Option<Light> {
        Light::EVERY
            .iter()
            .find(|(_, id, _)| *id == word)
            .map(|(light, _, _)| *light)
    }

    fn id(self) -> &'static str {
        Light::EVERY
            .iter()
            .find(|(light, _, _)| *light == self)
            .map_or("device", |(_, id, _)| id)
    }
}

/// How a page was asked for: in which light, and from which address.
#[derive(Debug, Clone, Default)]
pub(crate) struct Asked {
    pub(crate) light: Light,
    pub(crate) path: String,
}

impl<S: Sync> FromRequestParts<S> for Asked {
    type Rejection = Infallible;

    async fn from_request_parts(parts: &mut Parts, _: &S) -> Result<Self, Infallible> {
        let light = cookie(&parts.headers, "light").and_then(|word| Light::parse(&word));
        Ok(Asked {
            light: light.unwrap_or_default(),
            path: parts.uri.path_and_query().map_or("/", |path| path.as_str()).to_owned(),
        })
    }
}

/// The value of a cookie.
pub(crate) fn cookie(headers: &axum::http::HeaderMap, name: &str) -> Option<String> {
    headers
        .get_all(header::COOKIE)
        .iter()
        .filter_map(|line| line.to_str().ok())
        .flat_map(|line| line.split(';'))
        .filter_map(|pair| pair.trim().split_once('='))
        .find(|(key, _)| *key == name)
        .map(|(_, value)| value.to_owned())
}

/// Where a page belongs among the ways through the shop.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Here {
    Quick,
    Pieces,
    Week,
    Bench,
    Shelf,
    Colour,
    Money,
    Shop,
}

const WAYS: [(Here, &str, &str); 8] = [
    (Here::Bench, "/bench", "Bench"),
    (Here::Week, "/week", "Week"),
    (Here::Pieces, "/pieces", "Pieces"),
    (Here::Shelf, "/shelf", "Shelf"),
    (Here::Colour, "/colour", "Colour"),
    (Here::Money, "/money", "Money"),
    (Here::Shop, "/shop", "Shop"),
    (Here::Quick, "/", "Quick answers"),
];

/// A whole page.
pub(crate) fn page(asked: &Asked, title: &str, here: Here, body: &Markup) -> Markup {
    whole(asked, title, Some(here), body)
}

/// A page that belongs nowhere: what went wrong.
pub(crate) fn bare_page(title: &str, body: &Markup) -> Markup {
    whole(&Asked::default(), title, None, body)
}

fn whole(asked: &Asked, title: &str, here: Option<Here>, body: &Markup) -> Markup {
    html! {
        (DOCTYPE)
        html lang="en" data-light=(asked.light.id()) {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { (title) " · Coatwright" }
                link rel="icon" type="image/svg+xml" href=(assets::address("icon.svg"));
                link rel="preload" as="font" type="font/woff2" href=(assets::address("plain.woff2")) crossorigin;
                link rel="stylesheet" href=(assets::address("look.css"));
                script type="module" src=(assets::address("live.js")) {}
                @if here == Some(Here::Colour) { link rel="stylesheet" href=(assets::address("colour.css")); script type="module" src=(assets::address("colour.js")) {} }
            }
            body {
                a.skip href="#main" { "Skip to the page" }
                header.top {
                    div {
                        a.name href="/" { "Coatwright" }
                        nav aria-label="Shop" {
                            ul {
                                @for (way, address, name) in WAYS {
                                    li {
                                        a href=(address) aria-current=[(Some(way) == here).then_some("page")] { (name) }
                                    }
                                }
                            }
                        }
                    }
                }
                main #main tabindex="-1" { (body) }
                (foot(asked))
                (PreEscaped(HATCHES))
            }
        }
    }
}

fn foot(asked: &Asked) -> Markup {
    html! {
        footer.foot {
            p {
                "Figures are typical of a class of material. The label, the safety data sheet, local codes and licensed practice come first."
            }
            form method="post" action="/light" {
                input type="hidden" name="back" value=(asked.path);
                span #light-label { "Light " }
                span.row role="group" aria-labelledby="light-label" {
                    @for (light, id, name) in Light::EVERY {
                        button.second.small name="light" value=(id) aria-pressed=(if light == asked.light { "true" } else { "false" }) { (name) }
                    }
                }
            }
        }
    }
}

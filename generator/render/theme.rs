//! Templates, styles, scripts and the syntax of entry files, compiled into the binary from `theme/`.

use serde::Serialize;
use syntect::parsing::{Scope, SyntaxSet, SyntaxSetBuilder, syntax_definition::SyntaxDefinition};
use tera::{Context, Tera};

use super::script;
use crate::out_file::OutFile;

/// Everything that gives pages their shape.
pub struct Theme {
    tera: Tera,
    pub syntaxes: SyntaxSet,
    /// The scopes of the kept syntax and the class each is drawn with.
    pub classes: Vec<(Scope, &'static str)>,
}

macro_rules! theme_files {
    ($($name:literal),* $(,)?) => { &[$(($name, include_str!(concat!("../../theme/", $name)))),*] };
}

const TEMPLATES: &[(&str, &str)] = theme_files![
    "base.html",
    "nav.html",
    "lookup.html",
    "cautions.html",
    "facts.html",
    "statements.html",
    "photos.html",
    "seen.html",
    "foot.html",
    "comparison.html",
    "host.html",
    "check.html",
    "sign.html",
    "front.html",
    "country.html",
    "series.html",
    "issue.html",
    "family.html",
    "families.html",
    "practice.html",
    "practices.html",
    "term.html",
    "glossary.html",
    "source.html",
    "sources.html",
    "coverage.html",
    "coverage-country.html",
    "reading.html",
    "written.html",
    "missing.html",
    "bench/sentences.html",
    "bench/index.html",
    "bench/examination.html",
    "bench/record.html",
    "bench/scales.html",
    "bench/photo-measure.html",
    "bench/overlay.html",
    "bench/picture.html",
];

/// Files that go into the site as they are.
const ASSETS: &[(&str, &str)] = theme_files![
    "tellmark.css",
    "icon.svg",
    "page.js",
    "terms.js",
    "reader.js",
    "lookup.js",
    "recent.js",
    // The bench.
    "bench/filling.js",
    "bench/shelf.js",
    "bench/record.css",
    "bench/record.js",
    "bench/drawer.js",
    "bench/records.js",
    "bench/record-sheet.js",
    "bench/evidence.js",
    "bench/examination.css",
    "bench/examination-case.js",
    "bench/examination-looks.js",
    "bench/examination-support.js",
    "bench/examination.js",
    "bench/units.js",
    "bench/water.js",
    "bench/weighing.js",
    "bench/alloys.js",
    "bench/line.js",
    "bench/scales.css",
    "bench/scales.js",
    "bench/pictures.css",
    "bench/geometry.js",
    "bench/picture-file.js",
    "bench/glass.js",
    "bench/photo-measure-marks.js",
    "bench/photo-measure-drawing.js",
    "bench/photo-measure.js",
    "bench/similarity.js",
    "bench/overlay.css",
    "bench/overlay-marks.js",
    "bench/overlay-view.js",
    "bench/overlay-desk.js",
    "bench/overlay-panes.js",
    "bench/overlay-stage.js",
    "bench/overlay.js",
    "bench/picture.css",
    "bench/picture.js",
    "vendor/openseadragon.min.js",
    "vendor/openseadragon.LICENSE.txt",
];

/// Files that stand in the site outside `look/`.
const PLACED: &[(&str, &str)] = theme_files!["bench/record.schema.json"];

const TOML_SYNTAX: &str = include_str!("../../theme/toml.sublime-syntax");

impl Theme {
    /// The theme this binary was built with.
    ///
    /// # Errors
    /// A template or the syntax that does not parse: a fault of the build, named in the message.
    pub fn built_in() -> Result<Theme, String> {
        let mut tera = Tera::new();
        tera.add_raw_templates(TEMPLATES.iter().copied()).map_err(|error| error.to_string())?;
        let definition = SyntaxDefinition::load_from_str(TOML_SYNTAX, true, None).map_err(|error| error.to_string())?;
        let mut builder = SyntaxSetBuilder::new();
        builder.add(definition);
        let mut classes = Vec::new();
        for class in ["h", "k", "s", "v", "c"] {
            let scope = Scope::new(&format!("tellmark.{class}.toml")).map_err(|error| format!("{error:?}"))?;
            classes.push((scope, class));
        }
        Ok(Theme { tera, syntaxes: builder.build(), classes })
    }

    pub(super) fn render(&self, template: &str, view: &impl Serialize) -> Result<String, String> {
        let context = Context::from_serialize(view).map_err(|error| error.to_string())?;
        self.tera.render(template, &context).map_err(|error| error.to_string())
    }

    /// Styles and scripts.
    pub fn assets(&self) -> Vec<OutFile> {
        let looks = ASSETS.iter().map(|(name, text)| {
            let own_script = name.ends_with(".js") && !name.starts_with("vendor/");
            let text = if own_script { script::small(text) } else { text.to_string() };
            OutFile::text(format!("look/{name}"), text)
        });
        looks.chain(PLACED.iter().map(|(name, text)| OutFile::text(*name, *text))).collect()
    }
}

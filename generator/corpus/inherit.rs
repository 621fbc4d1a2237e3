//! What an issue is once its series, alterations, families and methods are laid behind it: its hypotheses, and its
//! checks in the order an examiner makes them, each with its place and with expectations that name hypotheses.

use super::Corpus;
use crate::entry::{
    Check, CheckKind, Entry, EntryId, Expectation, Face, HypothesisKind, Issue, Kind, LandmarkShape, Place, Quantity,
    Range, Row, Series, Standard,
};
use crate::reckon::{likelihood, standard};

/// A hypothesis of an issue. "Another false piece not on file" expects nothing in particular and is not listed.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Hypo {
    Genuine,
    Family(EntryId),
    Alteration(EntryId),
}

impl Hypo {
    /// As entries write it: `genuine`, `family:us/…`, `alteration:mark-added`.
    pub fn key(&self) -> String {
        match self {
            Hypo::Genuine => "genuine".into(),
            Hypo::Family(id) => format!("family:{}", id.below_kind()),
            Hypo::Alteration(id) => format!("alteration:{}", id.below_kind()),
        }
    }

    pub fn entry(&self) -> Option<&EntryId> {
        match self {
            Hypo::Genuine => None,
            Hypo::Family(id) | Hypo::Alteration(id) => Some(id),
        }
    }
}

/// An issue with everything behind it. Nothing in it is missing or dangling.
pub struct IssueView<'c> {
    pub entry: &'c Entry,
    pub issue: &'c Issue,
    pub series_entry: &'c Entry,
    pub series: &'c Series,
    pub row: &'c Row,
    pub standard: Option<&'c Standard>,
    /// `Genuine` first, then families, then alterations, each in the order written.
    pub hypotheses: Vec<Hypo>,
    pub checks: Vec<PlacedCheck<'c>>,
}

/// A check as one issue sees it.
pub struct PlacedCheck<'c> {
    pub check: &'c Check,
    /// The entry that states it: the issue, or what it inherits from.
    pub from: &'c Entry,
    pub place: ResolvedPlace,
    /// For a look check, per finding: who expects it how. For a measured check, empty.
    pub expects: Vec<Vec<(Hypo, Expectation)>>,
    /// For a measured check: the range of each hypothesis that has one.
    pub ranges: Vec<(Hypo, Range)>,
}

/// A place with landmarks looked up. A landmark that the series does not draw keeps its name and no pin.
#[derive(Clone, Debug, PartialEq)]
pub enum ResolvedPlace {
    None,
    Point {
        face: Face,
        clock: f64,
        reach: f64,
        about: bool,
    },
    Arc {
        face: Face,
        from: f64,
        to: f64,
        reach: f64,
        about: bool,
    },
    /// A line, such as a crack: clock and reach of its points.
    Path {
        face: Face,
        points: Vec<(f64, f64)>,
        about: bool,
    },
    /// A patch within a closed line.
    Area {
        face: Face,
        points: Vec<(f64, f64)>,
        about: bool,
    },
    Face(Face),
    Edge,
    Landmark(String),
}

/// Two measurements of one quantity, against the same, are one check: what a family measures stands beside the standard.
fn same_quantity(one: &Check, other: &Check) -> bool {
    match (&one.kind, &other.kind) {
        (
            CheckKind::Measure { quantity: a, against: of_a, .. },
            CheckKind::Measure { quantity: b, against: of_b, .. },
        ) => a == b && of_a == of_b,
        _ => false,
    }
}

impl PlacedCheck<'_> {
    /// Takes over the ranges of hypotheses that have none here yet.
    fn add_ranges(&mut self, more: Vec<(Hypo, Range)>) {
        for (hypo, range) in more {
            if self.range(&hypo).is_none() {
                self.ranges.push((hypo, range));
            }
        }
    }

    /// For a look check: how likely each finding is under a hypothesis, adding up to 1.
    pub fn shares(&self, hypo: &Hypo) -> Vec<f64> {
        let written: Vec<Option<Expectation>> = self
            .expects
            .iter()
            .map(|finding| finding.iter().find(|(who, _)| who == hypo).map(|(_, expectation)| *expectation))
            .collect();
        likelihood::spread(&written)
    }

    pub fn range(&self, hypo: &Hypo) -> Option<Range> {
        self.ranges.iter().find(|(who, _)| who == hypo).map(|(_, range)| *range)
    }
}

impl Corpus {
    /// An issue with everything behind it, or `None` while its series, its row or a linked entry is missing.
    pub fn view<'c>(&'c self, entry: &'c Entry) -> Option<IssueView<'c>> {
        let issue = entry.issue()?;
        let (series_entry, series) = self.series_of(issue)?;
        let (row, _) = series.row(&issue.row)?;
        let families: Vec<&Entry> =
            issue.forgeries.iter().map(|f| self.find(Kind::Family, &f.family).ok()).collect::<Option<_>>()?;
        let alterations: Vec<&Entry> =
            issue.alterations.iter().map(|a| self.find(Kind::Alteration, &a.pattern).ok()).collect::<Option<_>>()?;
        let mut hypotheses = vec![Hypo::Genuine];
        hypotheses.extend(families.iter().map(|family| Hypo::Family(family.id.clone())));
        hypotheses.extend(alterations.iter().map(|alteration| Hypo::Alteration(alteration.id.clone())));
        hypotheses.dedup();
        let standard = series.standard(issue.row.year);
        let mut view = IssueView { entry, issue, series_entry, series, row, standard, hypotheses, checks: Vec::new() };
        self.gather(&mut view, &families, &alterations);
        Some(view)
    }

    fn gather<'c>(&'c self, view: &mut IssueView<'c>, families: &[&'c Entry], alterations: &[&'c Entry]) {
        let row = &view.issue.row;
        let applies = |check: &Check| {
            check.years.is_none_or(|(from, to)| (from..=to).contains(&row.year))
                && (check.mints.is_empty() || check.mints.contains(&row.mint))
        };
        let series: Vec<&Check> = view.series.checks.iter().filter(|check| applies(check)).collect();
        let measured = |check: &&&Check| matches!(check.kind, CheckKind::Measure { .. });
        let mut found: Vec<(&'c Check, &'c Entry, Vec<Hypo>)> = Vec::new();
        let own: Vec<&Check> = view.issue.checks.iter().collect();
        found.extend(own.iter().filter(measured).map(|check| (*check, view.entry, Vec::new())));
        found.extend(series.iter().filter(measured).map(|check| (*check, view.series_entry, Vec::new())));
        found.extend(own.iter().filter(|check| !measured(check)).map(|check| (*check, view.entry, Vec::new())));
        found.extend(
            series.iter().filter(|check| !measured(check)).map(|check| (*check, view.series_entry, Vec::new())),
        );
        for alteration in alterations {
            let this = vec![Hypo::Alteration(alteration.id.clone())];
            found.extend(
                alteration
                    .alteration()
                    .into_iter()
                    .flat_map(|a| &a.checks)
                    .map(|check| (check, *alteration, this.clone())),
            );
        }
        for family in families {
            let this = vec![Hypo::Family(family.id.clone())];
            found.extend(
                family.family().into_iter().flat_map(|f| &f.checks).map(|check| (check, *family, this.clone())),
            );
        }
        for (method, this) in self.methods_behind(families) {
            found
                .extend(method.method().into_iter().flat_map(|m| &m.checks).map(|check| (check, method, this.clone())));
        }
        let own: Vec<&str> = own.iter().map(|check| check.id.as_str()).collect();
        let mut taken: Vec<&str> = Vec::new();
        for (check, from, this) in found {
            let id = check.id.as_str();
            let replaced = from.id != view.entry.id && own.contains(&id);
            if replaced || taken.contains(&id) {
                continue;
            }
            taken.push(id);
            let placed = self.place_check(view, check, from, &this);
            match view.checks.iter_mut().find(|known| same_quantity(known.check, check)) {
                Some(known) => known.add_ranges(placed.ranges),
                None => view.checks.push(placed),
            }
        }
        // Scales and calipers before the glass; the sort is stable, so looks keep their order.
        view.checks.sort_by_key(|placed| match placed.check.kind {
            CheckKind::Measure { quantity, .. } => (0, Some(quantity)),
            CheckKind::Look { .. } => (1, None),
        });
    }

    /// Each method once, with the families of this issue that were made by it.
    fn methods_behind<'c>(&'c self, families: &[&'c Entry]) -> Vec<(&'c Entry, Vec<Hypo>)> {
        let mut out: Vec<(&Entry, Vec<Hypo>)> = Vec::new();
        for family in families {
            for reference in family.family().into_iter().flat_map(|f| &f.methods) {
                let Ok(method) = self.find(Kind::Method, reference) else { continue };
                let hypo = Hypo::Family(family.id.clone());
                match out.iter_mut().find(|(known, _)| known.id == method.id) {
                    Some((_, makers)) => makers.push(hypo),
                    None => out.push((method, vec![hypo])),
                }
            }
        }
        out
    }

    fn place_check<'c>(
        &'c self,
        view: &IssueView<'c>,
        check: &'c Check,
        from: &'c Entry,
        this: &[Hypo],
    ) -> PlacedCheck<'c> {
        let who = |kind: &HypothesisKind| -> Vec<Hypo> {
            let named = match kind {
                HypothesisKind::Genuine => vec![Hypo::Genuine],
                HypothesisKind::This => this.to_vec(),
                HypothesisKind::Family(name) => {
                    self.find(Kind::Family, name).map(|e| Hypo::Family(e.id.clone())).into_iter().collect()
                }
                HypothesisKind::Alteration(name) => {
                    self.find(Kind::Alteration, name).map(|e| Hypo::Alteration(e.id.clone())).into_iter().collect()
                }
            };
            // An inherited check may speak of hypotheses that this issue does not have.
            named.into_iter().filter(|hypo| view.hypotheses.contains(hypo)).collect()
        };
        let (mut expects, mut ranges) = (Vec::new(), Vec::new());
        match &check.kind {
            CheckKind::Look { findings, .. } => {
                for finding in findings {
                    let named =
                        finding.expect.iter().flat_map(|(h, e)| who(&h.kind).into_iter().map(|hypo| (hypo, *e)));
                    expects.push(named.collect());
                }
                if matches!(from.kind(), Kind::Family | Kind::Method) {
                    altered_as_genuine(&mut expects, view);
                }
            }
            CheckKind::Measure { quantity, expect, .. } => {
                ranges =
                    expect.iter().flat_map(|(h, range)| who(&h.kind).into_iter().map(|hypo| (hypo, *range))).collect();
                complete_ranges(&mut ranges, view, *quantity);
            }
        }
        PlacedCheck {
            check,
            from,
            place: place_on(check.place.as_ref(), view.series, view.issue.row.year),
            expects,
            ranges,
        }
    }
}

/// In what a family or a method shows, an altered genuine piece is as a genuine one, unless the check says otherwise:
/// its metal, edge and dies are the mint's.
fn altered_as_genuine(expects: &mut [Vec<(Hypo, Expectation)>], view: &IssueView<'_>) {
    for hypo in view.hypotheses.iter().filter(|hypo| matches!(hypo, Hypo::Alteration(_))) {
        if expects.iter().flatten().any(|(who, _)| who == hypo) {
            continue;
        }
        for finding in expects.iter_mut() {
            let genuine = finding.iter().find(|(who, _)| *who == Hypo::Genuine).map(|(_, expectation)| *expectation);
            finding.extend(genuine.map(|expectation| (hypo.clone(), expectation)));
        }
    }
}

/// Genuine measures come from the standard; an altered genuine piece measures as a genuine one unless its entry says otherwise.
fn complete_ranges(ranges: &mut Vec<(Hypo, Range)>, view: &IssueView<'_>, quantity: Quantity) {
    let stated =
        |ranges: &[(Hypo, Range)], hypo: &Hypo| ranges.iter().find(|(who, _)| who == hypo).map(|(_, range)| *range);
    let genuine = stated(ranges, &Hypo::Genuine)
        .or_else(|| view.standard.and_then(|standard| standard::genuine_range(standard, quantity)));
    let Some(genuine) = genuine else { return };
    for hypo in &view.hypotheses {
        if !matches!(hypo, Hypo::Family(_)) && stated(ranges, hypo).is_none() {
            ranges.push((hypo.clone(), genuine));
        }
    }
}

/// A place on the coins of a series and year.
pub fn place_on(place: Option<&Place>, series: &Series, year: i32) -> ResolvedPlace {
    resolve(place, |name| landmark(name, series, year))
}

/// A place without a series to look landmarks up in: they keep their names.
pub fn place_anywhere(place: Option<&Place>) -> ResolvedPlace {
    resolve(place, |name| ResolvedPlace::Landmark(name.to_string()))
}

fn resolve(place: Option<&Place>, landmark: impl Fn(&str) -> ResolvedPlace) -> ResolvedPlace {
    match place {
        None => ResolvedPlace::None,
        Some(Place::Edge) => ResolvedPlace::Edge,
        Some(Place::Face(face)) => ResolvedPlace::Face(*face),
        Some(Place::Point { face, clock, reach, about }) => {
            ResolvedPlace::Point { face: *face, clock: *clock, reach: *reach, about: *about }
        }
        Some(Place::Arc { face, from, to, reach, about }) => {
            ResolvedPlace::Arc { face: *face, from: *from, to: *to, reach: *reach, about: *about }
        }
        Some(Place::Path { face, points, about }) => {
            ResolvedPlace::Path { face: *face, points: points.clone(), about: *about }
        }
        Some(Place::Area { face, points, about }) => {
            ResolvedPlace::Area { face: *face, points: points.clone(), about: *about }
        }
        Some(Place::Landmark(name)) => landmark(&name.text),
    }
}

fn landmark(name: &str, series: &Series, year: i32) -> ResolvedPlace {
    if name == "mint-mark"
        && let Some(place) = series.mark_place(year).and_then(|mark| mark.statement.place.as_ref())
        && !matches!(place, Place::Landmark(_))
    {
        return place_on(Some(place), series, year);
    }
    let drawn = series.landmarks.iter().find(|landmark| landmark.id.as_str() == name);
    match drawn.map(|landmark| (landmark.face, &landmark.shape)) {
        Some((face, LandmarkShape::Text { clock, reach, .. })) => {
            ResolvedPlace::Point { face, clock: *clock, reach: *reach, about: true }
        }
        Some((face, LandmarkShape::Arc { from, to, reach, .. })) => {
            ResolvedPlace::Arc { face, from: *from, to: *to, reach: *reach, about: true }
        }
        Some((face, LandmarkShape::Path(_))) => ResolvedPlace::Face(face),
        None => ResolvedPlace::Landmark(name.to_string()),
    }
}

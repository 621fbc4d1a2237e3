//! Families side by side: one column a family, one row a trait.

use serde::Serialize;

use super::parts::StatementView;
use super::site::{Link, Page};
use crate::entry::{Entry, Family, Kind, TRAITS, TraitKind};

/// Families as columns, traits as rows.
#[derive(Serialize, Default)]
pub struct Comparison {
    pub families: Vec<FamilyColumn>,
    pub traits: Vec<&'static str>,
}

#[derive(Serialize)]
pub struct FamilyColumn {
    pub link: Link,
    pub methods: Vec<Link>,
    pub period: String,
    pub issues: usize,
    /// In the order of `traits`; empty where the entry says nothing.
    pub cells: Vec<Option<StatementView>>,
}

pub fn comparison(page: &Page<'_>, families: &[&Entry]) -> Comparison {
    let read: Vec<(&Entry, &Family)> = families.iter().filter_map(|entry| Some((*entry, entry.family()?))).collect();
    let used = |kind: TraitKind| read.iter().any(|(_, family)| family.traits.iter().any(|one| one.of == kind));
    let kinds: Vec<(&'static str, TraitKind)> = TRAITS.iter().copied().filter(|(_, kind)| used(*kind)).collect();
    let columns = read
        .iter()
        .map(|(entry, family)| FamilyColumn {
            link: page.link(entry),
            methods: methods_of(page, family),
            period: family.period.clone().unwrap_or_default(),
            issues: page.site.backlinks.of_kind(page.corpus(), &entry.id, Kind::Issue).len(),
            cells: kinds
                .iter()
                .map(|(_, kind)| {
                    family.traits.iter().find(|one| one.of == *kind).map(|one| StatementView {
                        html: page.prose.inline(&one.statement.text.text),
                        place: String::new(),
                        basis_html: page.basis_html(&one.statement.basis),
                    })
                })
                .collect(),
        })
        .collect();
    Comparison { families: columns, traits: kinds.iter().map(|(word, _)| trait_name(word)).collect() }
}

fn trait_name(word: &'static str) -> &'static str {
    match word {
        "axis" => "die axis",
        other => other,
    }
}

pub fn methods_of(page: &Page<'_>, family: &Family) -> Vec<Link> {
    page.links(family.methods.iter().filter_map(|method| page.corpus().find(Kind::Method, method).ok()))
}

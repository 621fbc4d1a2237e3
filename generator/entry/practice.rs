//! Methods (how false pieces are made) and alterations (how a genuine coin is changed): one shape, told apart by their group.

use super::check::Check;
use super::fields::Fields;
use super::statement::{Sign, Statement};

#[derive(Clone, Debug)]
pub struct Practice<G> {
    pub name: String,
    pub group: G,
    /// How it is done, as far as an examiner needs to recognise it.
    pub made: Vec<Statement>,
    pub signs: Vec<Sign>,
    /// What looks like it and is innocent.
    pub mimics: Vec<Statement>,
    pub cautions: Vec<Statement>,
    pub checks: Vec<Check>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum MethodGroup {
    Struck,
    Cast,
    Deposited,
    Assembled,
    Status,
}

pub const METHOD_GROUPS: &[(&str, MethodGroup)] = &[
    ("struck", MethodGroup::Struck),
    ("cast", MethodGroup::Cast),
    ("deposited", MethodGroup::Deposited),
    ("assembled", MethodGroup::Assembled),
    ("status", MethodGroup::Status),
];

/// What an alteration does; decides which hosts are worked out for it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Operation {
    MarkAdded,
    MarkRemoved,
    MarkChanged,
    DigitChanged,
    FeatureRemoved,
    FeatureAdded,
    Legend,
    Surface,
    Edge,
    Metal,
}

pub const OPERATIONS: &[(&str, Operation)] = &[
    ("mark-added", Operation::MarkAdded),
    ("mark-removed", Operation::MarkRemoved),
    ("mark-changed", Operation::MarkChanged),
    ("digit-changed", Operation::DigitChanged),
    ("feature-removed", Operation::FeatureRemoved),
    ("feature-added", Operation::FeatureAdded),
    ("legend", Operation::Legend),
    ("surface", Operation::Surface),
    ("edge", Operation::Edge),
    ("metal", Operation::Metal),
];

pub type Method = Practice<MethodGroup>;
pub type Alteration = Practice<Operation>;

impl<G: Copy> Practice<G> {
    pub(super) fn read(
        fields: &mut Fields<'_, '_>,
        key: &'static str,
        groups: &[(&'static str, G)],
    ) -> Option<Practice<G>> {
        let name = fields
            .need_text("name", if key == "group" { "\"Struck from transfer dies\"" } else { "\"Mint mark added\"" });
        if !fields.has(key) {
            fields.missing(key, &format!("\"{}\"", groups[0].0));
        }
        let group = fields.word(key, groups);
        let made = Statement::list(fields, "made", "this account");
        let signs = Sign::list(fields, "sign", "this sign");
        let mimics = Statement::list(fields, "mimic", "this mimic");
        let cautions = Statement::list(fields, "caution", "this caution");
        let checks = Check::list(fields);
        Some(Practice { name: name?.0, group: group?, made, signs, mimics, cautions, checks })
    }
}

//! The draft of a series: a skeleton with every table, its years read from the id.

use super::{
    BASIS, GENUINE, NOT_DECISIVE, OPTIONAL, PHOTO, REVIEWED, Refusal, check, country_of, known_country, quoted, summary,
};
use crate::corpus::Corpus;
use crate::entry::{EntryId, Kind};

pub fn series(corpus: &Corpus, id: &EntryId) -> Result<String, Refusal> {
    known_country(corpus, id)?;
    let years = years(id.stem());
    let (years_line, period) = match years {
        Some((from, to)) => (
            format!("years        = [{from}, {to}]     # first and last of the design, read from the id\n"),
            format!("from      = {from}\nto        = {to}\n"),
        ),
        None => (
            "#years        = [1916, 1945]     # needed: first and last of the design\n".to_string(),
            "#from      = 1916     # needed\n#to        = 1945     # needed\n".to_string(),
        ),
    };
    Ok(format!(
        "name         = \"\"     # the trade's word for the design and the denomination\ncountry      = {}\n\
         denomination = \"\"     # as it is spoken of: dime, half dollar, 5 francs\n{years_line}{REVIEWED}{OPTIONAL}\
         #incomplete   = '''…'''     # why the list below is not complete, if it is not\n\n{}\
         [digits]     # how the date is written and how it got onto the die\n\
         shown = \"western\"     # or none: frozen, absent, regnal or other numerals\n\
         style = \"modern\"     # or old-style: numerals of unequal height\n\
         entry = \"unknown\"     # or hub, logotype (one punch for the whole date), punches (digit by digit)\n{BASIS}\n\
         [[standard]]     # what the law asks of one piece; one for each period\n{period}{STANDARD}{BASIS}\n{MARK_PLACE}\
         # The complete date, mint and mintage list, one block for each basis. Marks of the country: {}\n\
         [[struck]]\nrows  = [\n# A row: [year, mark, pieces or 0], then a variety and a remark if there are any, such as\n\
         # [1916, \"D\", 264000], [1942, \"D\", 0, \"2 over 1\"],\n]\n{BASIS}\n\
         {LANDMARK}{CHANGE}{GENUINE}{MEASURE}{}{NOT_DECISIVE}{PHOTO}",
        quoted(country_of(id)),
        summary("the design and its maker, where the mark stands, which dates are targets"),
        marks(corpus, id),
        check("\"alteration:mark-added\""),
    ))
}

/// `dime-winged-head-1916-1945` → 1916 and 1945; one year if it ends in one.
fn years(stem: &str) -> Option<(i32, i32)> {
    let year = |word: &str| word.parse::<i32>().ok().filter(|year| word.len() == 4 && (1000..=2100).contains(year));
    let mut words = stem.rsplit('-');
    let last = year(words.next()?)?;
    let first = words.next().and_then(year).filter(|first| *first <= last);
    Some((first.unwrap_or(last), last))
}

fn marks(corpus: &Corpus, id: &EntryId) -> String {
    let country = corpus.of_kind(Kind::Country).find(|entry| entry.id.stem() == country_of(id));
    let mints = country.and_then(|entry| entry.country()).map_or(&[][..], |country| &country.mints);
    let marks: Vec<String> = mints.iter().map(|mint| format!("{} {}", quoted(&mint.mark), mint.city)).collect();
    if marks.is_empty() { "none yet".into() } else { marks.join(", ") }
}

const STANDARD: &str = "\
#weight    = { value = 2.5, unit = \"gram\" }     # as the law states it; or { pieces = 66, to = 1, unit = \"troy-pound\" }
#deviation = { value = 1.5, unit = \"grain\" }     # permitted on one piece; or { per_mille = 3 }
#alloy     = { Ag = 900, Cu = 100 }     # parts per thousand, to a sum of 1000
#diameter  = 17.9     # mm
#thickness = 1.35     # mm
#edge      = \"reeded\"
#axis      = \"coin\"     # or medal
#basis_of  = { diameter = \"common-practice\" }     # where one field stands on something else
";

const MARK_PLACE: &str = "\
# Where the mint mark stands, by period.
#[[mark_place]]
#from  = 1916
#to    = 1945
#where = { face = \"reverse\", clock = 7.5, reach = 0.6, about = true }
#text  = ''''''
#basis = []

";

const LANDMARK: &str = "\
# Drawn faintly in every disc, so that a pin is found at a glance. Inherited checks look for `date`.
#[[landmark]]
#id    = \"date\"
#face  = \"obverse\"
#kind  = \"text\"     # or arc (text, clock, to, reach, size), path (d, in units of the radius)
#text  = \"1916\"
#clock = 5.0
#reach = 0.75
#size  = 0.12

";

const CHANGE: &str = "\
# A change of design or of making within the series: what still betrays a host.
#[[change]]
#year  = 1917
#text  = ''''''
#basis = []

";

const MEASURE: &str = "\
# A measured check; the genuine range comes from the standard.
#[[check]]
#id      = \"weight\"
#measure = \"weight\"     # or diameter, thickness, density, tilt, offset, die-axis
#basis   = []

";

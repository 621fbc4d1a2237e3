//! The stable names of the rules, and one line on each for machines that list them.

macro_rules! codes {
    ($($variant:ident $name:literal $about:literal)*) => {
        /// Which rule was broken. The kebab-case name is stable: scripts and tests rely on it.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
        pub enum Code { $($variant),* }

        impl Code {
            /// Every code, in the order above.
            pub const ALL: &'static [Code] = &[$(Code::$variant),*];

            /// The stable name.
            pub fn name(self) -> &'static str { match self { $(Code::$variant => $name),* } }

            /// What the rule asks for, in one line.
            pub fn about(self) -> &'static str { match self { $(Code::$variant => $about),* } }
        }
    };
}

codes! {
    UnreadableText "unreadable-text" "An entry is a file of UTF-8 text of a sensible size, not a link."
    Syntax "syntax" "An entry is well-formed TOML."
    WrongType "wrong-type" "Each value has the type its key asks for."
    MissingKey "missing-key" "Each entry has the keys its kind cannot do without."
    UnknownKey "unknown-key" "Each key is one the kind of entry knows."
    BadValue "bad-value" "Each value is one of those that make sense for its key."
    BadId "bad-id" "Ids are lower-case words of letters and digits joined by hyphens."
    UnknownKind "unknown-kind" "Each file stands in the folder of a kind of entry."
    BasisMissing "basis-missing" "Each statement says what it stands on."
    UnknownSource "unknown-source" "Each citation names a source in sources.toml."
    CitationWithoutPlace "citation-without-place" "Each citation says where in the source."
    DanglingReference "dangling-reference" "Each reference names an entry that exists."
    AmbiguousReference "ambiguous-reference" "Each reference names one entry only."
    DuplicateId "duplicate-id" "No two things that are referred to by name share one."
    OutsideSeries "outside-series" "An issue is in the date and mint list of its series."
    MintNotOpen "mint-not-open" "A piece is listed only for years in which its mint coined."
    StandardGap "standard-gap" "Each year of a series has a legal standard, and only one."
    ImpossiblePlace "impossible-place" "A place is on the coin."
    UnknownHypothesis "unknown-hypothesis" "An expectation is about a hypothesis that the issue has."
    ImpossibleCount "impossible-count" "A count k of n has n above 0 and k from 0 to n."
    CountNotRead "count-not-read" "In a real collection a count has a publication that was read."
    SeparatesNothing "separates-nothing" "A check tells at least two hypotheses apart."
    NotSeparated "not-separated" "Any two hypotheses of an issue are told apart by some check."
    PhotoMissing "photo-missing" "A photo reference with a file has that file."
    PhotoAltered "photo-altered" "A photo's file has the sha256 that its entry states."
    PhotoOutside "photo-outside" "A photo's file is inside its collection."
    PhotoFormat "photo-format" "A photo's file is a still PNG or JPEG picture that browsers show, named as what it is."
    PhotoSize "photo-size" "A photo's file has pixels, and not more than can be opened."
    PhotoBroken "photo-broken" "A photo's file can be decoded to its end."
    PhotoPair "photo-pair" "Two photos shown side by side are of one entry, one of a true piece and one of a false one."
    PhotoPrivate "photo-private" "A picture that may not be published is in no collection."
    RawHtml "raw-html" "Prose is CommonMark without HTML."
    ForbiddenLink "forbidden-link" "Prose links only to entries."
    PrivateReference "private-reference" "A public collection does not refer to a private one."
    StaleReview "stale-review" "An entry was reviewed within two years."
    TermUndefined "term-undefined" "A glossary link has its glossary entry."
    HostImpossible "host-impossible" "A recorded host is one that the date and mint list allows."
    RepeatedSentence "repeated-sentence" "A sentence stands in at most five entries."
}

//! Scripts on their way out: the same work in fewer bytes. Comments and long local names stay in `theme/`.

use oxc_allocator::Allocator;
use oxc_codegen::{Codegen, CodegenOptions};
use oxc_minifier::{Minifier, MinifierOptions};
use oxc_parser::Parser;
use oxc_span::SourceType;

/// A classic script without comments, needless space and long local names. One that does not parse is given back as it is:
/// the browser then says where it is wrong.
pub fn small(text: &str) -> String {
    let allocator = Allocator::default();
    let mut parsed = Parser::new(&allocator, text, SourceType::cjs()).parse();
    if parsed.panicked || !parsed.errors.is_empty() {
        return text.to_string();
    }
    let made = Minifier::new(MinifierOptions::default()).minify(&allocator, &mut parsed.program);
    let code =
        Codegen::new().with_options(CodegenOptions::minify()).with_scoping(made.scoping).build(&parsed.program).code;
    format!("{code}\n")
}

#[cfg(test)]
mod tests {
    use super::small;

    #[test]
    fn a_script_keeps_its_work_and_its_texts_and_loses_its_comments() {
        let text = "// @ts-check\n(function (tm) {\n  \"use strict\";\n  /* why */\n  tm.twice = (number) => number * 2; // told\n  \
                    tm.say = \"12 o\u{2019}clock // not a comment\";\n})((window.Tellmark ??= {}));\n";
        let made = small(text);
        assert!(made.len() < text.len() && !made.contains("why") && !made.contains("told"), "{made}");
        assert!(made.contains("o\u{2019}clock // not a comment") && made.contains("window.Tellmark??={}"), "{made}");
    }

    #[test]
    fn a_script_that_does_not_parse_is_left_to_the_browser() {
        assert_eq!(small("let = ;"), "let = ;");
    }
}

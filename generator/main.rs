fn main() {
    let roots: Vec<std::path::PathBuf> = std::env::args().skip(3).map(Into::into).collect();
    let loaded = tellmark::source::load(&roots).unwrap();
    let (corpus, problems) = tellmark::check(loaded, None);
    print!("{}", tellmark::diagnostic::to_text(&problems, &corpus.sources));
    println!("{} problems", problems.len());
}

//! Replaces generated text between marks in a hand-written file.

/// Replaces the text between `<!-- NAME -->` and `<!-- /NAME -->`.
///
/// # Errors
/// A message that names the missing mark.
pub fn between_marks(text: &str, name: &str, made: &str) -> Result<String, String> {
    let (open, close) = (format!("<!-- {name} -->"), format!("<!-- /{name} -->"));
    let missing = |mark: &str| format!("the mark {mark} is missing");
    let (before, rest) = text.split_once(&open).ok_or_else(|| missing(&open))?;
    let (_, after) = rest.split_once(&close).ok_or_else(|| missing(&close))?;
    Ok(format!("{before}{open}\n{made}{close}{after}"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn replaces_between_and_names_what_is_missing() {
        assert_eq!(
            between_marks("a<!-- x -->old<!-- /x -->b", "x", "new\n"),
            Ok("a<!-- x -->\nnew\n<!-- /x -->b".into())
        );
        assert!(between_marks("a", "x", "").unwrap_err().contains("<!-- x -->"));
    }
}

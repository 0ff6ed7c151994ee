//! Prints seeded cases of a subject with this program's results as JSON: `reference SUBJECT COUNT`.

use clothyard_tools::reference;
use std::process::ExitCode;

fn main() -> ExitCode {
    let mut arguments = std::env::args().skip(1);
    let (subject, count) = (arguments.next(), arguments.next().and_then(|count| count.parse().ok()));
    let (Some(subject), Some(count)) = (subject, count) else {
        eprintln!("usage: reference SUBJECT COUNT");
        return ExitCode::from(2);
    };
    let printed = reference::cases(&subject, count)
        .and_then(|cases| serde_json::to_string(&cases).map_err(|error| error.to_string()));
    match printed {
        Ok(text) => {
            println!("{text}");
            ExitCode::SUCCESS
        }
        Err(error) => {
            eprintln!("{error}");
            ExitCode::FAILURE
        }
    }
}

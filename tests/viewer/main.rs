//! The window's promises, in one binary, because linking Bevy takes seconds.
//!
//! Most need no graphics adapter. The pictures do; where there is none they are reported as ignored, and
//! `ELBOWROOM_NEED_GRAPHICS=1` turns that into a failure.

mod cut;
mod editing;
mod golden;
mod hands;
mod in_use;
mod install;
mod opening;
mod panel;
mod picture;
mod plans;
mod preview;
mod stills;
mod together;

use libtest_mimic::{Arguments, Trial};

fn main() -> std::process::ExitCode {
    let arguments = Arguments::from_args();
    let mut trials: Vec<Trial> = Vec::new();
    let tests = panel::TESTS
        .iter()
        .chain(hands::TESTS)
        .chain(editing::TESTS)
        .chain(cut::TESTS)
        .chain(install::TESTS)
        .chain(together::TESTS)
        .chain(in_use::TESTS)
        .chain(opening::TESTS)
        .chain(preview::TESTS)
        .chain(golden::PLAIN)
        .chain(stills::PLAIN);
    for (name, test) in tests {
        trials.push(Trial::test(*name, run(*test)));
    }
    // Listing the tests must not wake the graphics stack.
    let missing = if arguments.list { None } else { elbowroom::viewer::missing_adapter() };
    let needed = std::env::var("ELBOWROOM_NEED_GRAPHICS").is_ok_and(|value| value == "1");
    // Kept pictures were drawn in software; another adapter draws others.
    let other = match &missing {
        None if arguments.list || elbowroom::viewer::draws_on_processor() => None,
        None => Some("the adapter is a graphics card; set VK_DRIVER_FILES to lavapipe to compare".to_owned()),
        Some(why) => Some(why.clone()),
    };
    let drawn = picture::TESTS.iter().chain(stills::TESTS).map(|test| (test, &missing));
    for ((name, test), missing) in drawn.chain(golden::TESTS.iter().map(|test| (test, &other))) {
        match missing {
            Some(why) if needed => {
                let why = why.clone();
                trials.push(Trial::test(*name, move || Err(why.into())));
            }
            Some(why) => {
                trials.push(Trial::test(format!("{name} (ignored: {why})"), || Ok(())).with_ignored_flag(true));
            }
            None => trials.push(Trial::test(*name, run(*test))),
        }
    }
    libtest_mimic::run(&arguments, trials).exit_code()
}

/// A test fails by panicking, as in any other Rust test.
fn run(test: fn()) -> impl FnOnce() -> Result<(), libtest_mimic::Failed> + Send + 'static {
    move || {
        test();
        Ok(())
    }
}

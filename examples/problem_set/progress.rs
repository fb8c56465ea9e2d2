//! A bar on standard error, if the work takes longer than a second and somebody is looking.

use std::io::{self, IsTerminal, Write};
use std::time::{Duration, Instant};

/// The work takes at least so long before a bar is drawn.
const PATIENCE: Duration = Duration::from_secs(1);
/// The bar is drawn again after so long.
const PAUSE: Duration = Duration::from_millis(100);
/// The width of the bar.
const WIDTH: usize = 30;

/// How much of the work is done.
pub(crate) struct Progress {
    total: usize,
    done: usize,
    /// When the bar is to be drawn; never if standard error is not a terminal.
    next: Option<Instant>,
    drawn: bool,
}

impl Progress {
    pub(crate) fn new(total: usize) -> Progress {
        let on_terminal = io::stderr().is_terminal();
        Progress {
            total,
            done: 0,
            next: on_terminal.then(|| Instant::now() + PATIENCE),
            drawn: false,
        }
    }

    /// Counts one more problem.
    pub(crate) fn step(&mut self) {
        self.done += 1;
        let now = Instant::now();
        if self.next.is_some_and(|next| next <= now) {
            self.next = Some(now + PAUSE);
            self.drawn = true;
            let filled = WIDTH * self.done / self.total.max(1);
            let (full, empty) = ("#".repeat(filled), ".".repeat(WIDTH - filled.min(WIDTH)));
            // Nothing is lost if this cannot be shown.
            let _ = write!(
                io::stderr(),
                "\r[{full}{empty}] {} of {} problems",
                self.done,
                self.total
            );
        }
    }
}

impl Drop for Progress {
    /// Clears the line.
    fn drop(&mut self) {
        if self.drawn {
            let _ = write!(io::stderr(), "\r{}\r", " ".repeat(WIDTH + 40));
        }
    }
}

//! An act in one line, for `check`.

use crate::act::Act;
use crate::diagnostic::words::all_of;
use crate::sheet::in_short::compose;
use crate::sheet::words::plain;

use super::limits_text::verdicts;
use super::table::paragraph;

/// `lasts 4:00.0; closest limit: club night, INSIDE by 1.9 s; nothing left open`.
#[must_use]
pub fn text(act: &Act, width: u16) -> String {
    let short = compose(act);
    let mut parts = vec![format!("lasts {}", short.lasts.clock())];
    parts.extend(short.encore_lasts.as_ref().map(|lasts| format!("the encore {}", lasts.clock())));
    parts.push(match &short.closest {
        Some(limit) => match &limit.judged {
            Some(judged) => {
                format!("closest limit: {}, {}", plain(&limit.rule), verdicts(judged))
            }
            None => format!("closest limit: {}", plain(&limit.rule)),
        },
        None => "no limit".to_owned(),
    });
    parts.push(match short.open.is_empty() {
        true => "nothing left open".to_owned(),
        false => all_of(&short.open),
    });
    paragraph(width, 0, &parts.join("; "))
}

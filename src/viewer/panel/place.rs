//! Where was a control drawn? Noted for scripts that drive the window with a real mouse, and only when one listens.

use std::collections::BTreeMap;
use std::sync::{Arc, Mutex};

use bevy_egui::egui::{Context, Id, Rect, Response};

/// Places of controls by name, in egui's points; shared with who listens.
#[derive(Clone, Debug, Default)]
pub struct Places(Arc<Mutex<BTreeMap<String, Rect>>>);

impl Places {
    /// Begins to note places in `ctx`.
    #[must_use]
    pub fn listen(ctx: &Context) -> Self {
        ctx.data_mut(|data| data.get_temp_mut_or_default::<Self>(Id::new("places")).clone())
    }

    /// Every place noted since the last call.
    #[must_use]
    pub fn take(&self) -> BTreeMap<String, Rect> {
        self.0.lock().map(|mut places| std::mem::take(&mut *places)).unwrap_or_default()
    }
}

/// Notes where `response` was drawn, as `name`; does nothing where nobody listens.
pub fn note(response: &Response, name: impl FnOnce() -> String) {
    let listener: Option<Places> = response.ctx.data(|data| data.get_temp(Id::new("places")));
    if let Some(listener) = listener
        && let Ok(mut places) = listener.0.lock()
    {
        places.insert(name(), response.rect);
    }
}

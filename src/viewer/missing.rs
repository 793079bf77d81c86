//! Can a window be opened here? Checked before Bevy is asked, because Bevy ends the program where it cannot.

use bevy::platform::collections::HashSet;

/// What this machine lacks for a window and what would help, or nothing where it lacks nothing.
#[must_use]
pub fn missing() -> Option<String> {
    missing_display(&|name| std::env::var(name).ok().filter(|value| !value.is_empty())).or_else(missing_adapter)
}

/// What this machine lacks for drawing at all, with or without a window.
#[must_use]
pub fn missing_adapter() -> Option<String> {
    adapter().err().map(|why| {
        let help = if cfg!(target_os = "linux") {
            "install a Vulkan driver, such as `apt-get install mesa-vulkan-drivers` (it draws on the processor where \
             there is no graphics card)"
        } else {
            "install or update the graphics driver"
        };
        format!("no graphics adapter was found ({}); {help}", first_clause(&why.to_string()))
    })
}

/// Whether pictures are drawn on the processor here, for want of a graphics card.
#[must_use]
pub fn draws_on_processor() -> bool {
    adapter().is_ok_and(|adapter| adapter.get_info().device_type == wgpu::DeviceType::Cpu)
}

fn adapter() -> Result<wgpu::Adapter, wgpu::RequestAdapterError> {
    let instance = wgpu::Instance::new(wgpu::InstanceDescriptor::new_without_display_handle_from_env());
    pollster::block_on(instance.request_adapter(&wgpu::RequestAdapterOptions::default()))
}

/// What a message says first; what follows it lists every way of drawing that this program does without.
fn first_clause(text: &str) -> String {
    text.split([';', '\n']).next().unwrap_or(text).trim().to_lowercase()
}

#[cfg(any(
    target_os = "linux",
    target_os = "freebsd",
    target_os = "openbsd",
    target_os = "netbsd",
    target_os = "dragonfly"
))]
fn missing_display(variable: &dyn Fn(&str) -> Option<String>) -> Option<String> {
    let usable: HashSet<&str> =
        ["DISPLAY", "WAYLAND_DISPLAY", "WAYLAND_SOCKET"].into_iter().filter(|name| variable(name).is_some()).collect();
    if cfg!(feature = "wayland") && (usable.contains("WAYLAND_DISPLAY") || usable.contains("WAYLAND_SOCKET")) {
        return None;
    }
    let Some(display) = variable("DISPLAY") else {
        let wayland = if usable.is_empty() {
            ""
        } else {
            " (this build has no native Wayland windows: start Xwayland, or build with `--features wayland`)"
        };
        return Some(format!(
            "there is no display: DISPLAY is not set{wayland}; run it in a desktop session, over `ssh -X`, or under \
             `xvfb-run -a`"
        ));
    };
    match x11rb::rust_connection::RustConnection::connect(Some(&display)) {
        Ok(_) => None,
        Err(why) => Some(format!(
            "the display `{display}` cannot be opened ({why}); check that DISPLAY names a running X server that lets \
             you in, or run under `xvfb-run -a`"
        )),
    }
}

#[cfg(not(any(
    target_os = "linux",
    target_os = "freebsd",
    target_os = "openbsd",
    target_os = "netbsd",
    target_os = "dragonfly"
)))]
fn missing_display(_variable: &dyn Fn(&str) -> Option<String>) -> Option<String> {
    None
}

#[cfg(all(test, target_os = "linux"))]
mod tests {
    use super::*;

    #[test]
    fn a_missing_display_is_named() {
        let none = missing_display(&|_| None).expect("no display");
        assert!(none.contains("DISPLAY is not set") && none.contains("xvfb-run"));
    }

    #[test]
    fn a_display_that_nobody_serves_is_named() {
        let dead = missing_display(&|name| (name == "DISPLAY").then(|| ":7461".to_owned())).expect("nobody serves it");
        assert!(dead.contains("`:7461` cannot be opened"), "{dead}");
    }
}

//! The shell's IPC, on Tauri's mock runtime: the same commands and the same
//! handlers as in the window, without one.

use serde_json::{Value, json};
use tauri::ipc::{CallbackFn, InvokeBody};
use tauri::test::{INVOKE_KEY, MockRuntime, get_ipc_response, mock_builder};
use tauri::webview::InvokeRequest;
use tauri::{App, WebviewWindow, WebviewWindowBuilder};

use crate::Carrier;

/// A shell without a window to see.
pub struct Shell {
    _dir: tempfile::TempDir,
    _app: App<MockRuntime>,
    window: WebviewWindow<MockRuntime>,
}

impl Shell {
    pub fn open() -> Shell {
        let dir = tempfile::tempdir().expect("folder");
        let door = swarfbook_app::App::open(dir.path()).expect("opens");
        let outbox = dir.path().join("outbox");
        let app = swarfbook_shell::builder(mock_builder(), door, outbox, None, None)
            .build(swarfbook_shell::context())
            .expect("builds");
        let window = WebviewWindowBuilder::new(&app, "main", tauri::WebviewUrl::default())
            .build()
            .expect("a window");
        Shell {
            _dir: dir,
            _app: app,
            window,
        }
    }

    fn invoke(&self, command: &str, body: InvokeBody) -> Result<Value, Value> {
        let request = InvokeRequest {
            cmd: command.into(),
            callback: CallbackFn(0),
            error: CallbackFn(1),
            url: "tauri://localhost".parse().expect("an address"),
            body,
            headers: Default::default(),
            invoke_key: INVOKE_KEY.to_owned(),
        };
        get_ipc_response(&self.window, request).map(|answer| answer.deserialize().expect("json"))
    }
}

impl Carrier for Shell {
    fn call(&mut self, command: &Value) -> Result<Value, Value> {
        self.invoke("call", json!({"command": command}).into())
    }

    fn put_photo(&mut self, bytes: &[u8]) -> Result<String, Value> {
        let kept = self.invoke("put_photo", InvokeBody::Raw(bytes.to_vec()))?;
        Ok(kept["photo"].as_str().expect("a name").to_owned())
    }
}

//! Which language a request is answered in, and how it is kept to.

use std::future::{Future, poll_fn};
use std::pin::pin;

use axum::http::{HeaderMap, header};
use swarfbook_app::Profile;
use swarfbook_words::{Language, in_language, speaking};
use tokio::task::{JoinError, spawn_blocking};

use super::Hub;

/// For who has the hub's key: the browser's own, as it was set; else the hub's.
pub(super) async fn of_hub(hub: &Hub, profile: Option<Profile>) -> Language {
    let app = hub.app.clone();
    // A store that can't be asked is told of by what needs it.
    let asked = spawn_blocking(move || app.asked_by(profile, || app.speaking(speaking))).await;
    asked.unwrap_or_default()
}

/// The browser's, for who comes without the key; the hub's where it wishes for none
/// that there is.
pub(super) async fn of_stranger(hub: &Hub, headers: &HeaderMap) -> Language {
    let wish = headers
        .get(header::ACCEPT_LANGUAGE)
        .and_then(|wish| wish.to_str().ok())
        .and_then(Language::accepted);
    match wish {
        Some(language) => language,
        None => of_hub(hub, None).await,
    }
}

/// Does `work` with everything said in `language`. A task may change threads where it
/// waits, and what is spoken is known to a thread: so it is told anew each time.
pub(super) async fn spoken<T>(language: Language, work: impl Future<Output = T>) -> T {
    let mut work = pin!(work);
    poll_fn(|context| in_language(language, || work.as_mut().poll(context))).await
}

/// Does `work` on a thread that may wait for the disk, in the language of this request.
pub(super) async fn aside<T: Send + 'static>(
    work: impl FnOnce() -> T + Send + 'static,
) -> Result<T, JoinError> {
    let language = speaking();
    spawn_blocking(move || in_language(language, work)).await
}

#[cfg(test)]
mod tests {
    use super::*;

    #[tokio::test]
    async fn a_request_keeps_its_language_where_it_waits() {
        let heard = spoken(Language::De, async {
            tokio::task::yield_now().await;
            (speaking(), aside(speaking).await)
        });
        let (here, (there, beside)) = (tokio::spawn(async { speaking() }), heard.await);
        assert_eq!((there, beside.unwrap()), (Language::De, Language::De));
        assert_eq!(here.await.unwrap(), Language::En, "others keep theirs");
    }
}

// What our Kotlin uses of tauri 2.12.5, as its source has it (mobile/android/.../plugin).
@file:Suppress("UNUSED_PARAMETER")

package app.tauri.plugin

import android.app.Activity
import android.content.Intent
import android.webkit.WebView

abstract class Plugin(private val activity: Activity) {
  open fun load(webView: WebView) {}

  open fun onNewIntent(intent: Intent) {}
}

class Invoke {
  fun <T> parseArgs(cls: Class<T>): T = TODO()

  fun resolve(data: JSObject?) {}

  fun resolve() {}

  fun reject(msg: String?) {}
}

class JSObject {
  fun put(key: String, value: Boolean): JSObject = this

  fun put(key: String, value: Any?): JSObject = this

  fun put(key: String, value: String?): JSObject = this
}

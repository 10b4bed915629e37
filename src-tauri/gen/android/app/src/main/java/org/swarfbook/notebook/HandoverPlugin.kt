package org.swarfbook.notebook

import android.app.Activity
import android.content.ClipData
import android.content.Intent
import android.net.Uri
import android.view.WindowManager
import android.webkit.WebView
import androidx.core.content.FileProvider
import androidx.core.content.IntentCompat
import app.tauri.annotation.Command
import app.tauri.annotation.InvokeArg
import app.tauri.annotation.TauriPlugin
import app.tauri.plugin.Invoke
import app.tauri.plugin.JSObject
import app.tauri.plugin.Plugin
import java.io.File
import java.util.concurrent.Executors

@InvokeArg
class ShareArgs {
  /** A file in the outbox, which res/xml/file_paths.xml opens to the share sheet. */
  lateinit var path: String

  /** Its media type. */
  lateinit var kind: String
}

@InvokeArg
class AwakeArgs {
  var awake: Boolean = false
}

/**
 * What the phone does for the app: files out by the share sheet, links and exports in, the screen
 * kept awake. src-tauri/src/handover and src-tauri/src/awake.rs are the other side.
 */
@TauriPlugin
class HandoverPlugin(private val activity: Activity) : Plugin(activity) {
  /** Copies and answers stand in one line: no answer overtakes a copy that began before it. */
  private val line = Executors.newSingleThreadExecutor()

  /** The link, or the path of our own copy of the file, that the app was opened with. Of the line alone. */
  private var opened: String? = null

  /** A file came that could not be read. Of the line alone. */
  private var unreadable = false

  override fun load(webView: WebView) {
    super.load(webView)
    note(activity.intent)
  }

  override fun onNewIntent(intent: Intent) = note(intent)

  @Command
  fun share(invoke: Invoke) {
    val args = invoke.parseArgs(ShareArgs::class.java)
    val authority = "${activity.packageName}.fileprovider"
    val uri = FileProvider.getUriForFile(activity, authority, File(args.path))
    val send =
      Intent(Intent.ACTION_SEND).apply {
        type = args.kind
        putExtra(Intent.EXTRA_STREAM, uri)
        clipData = ClipData.newRawUri(null, uri)
        addFlags(Intent.FLAG_GRANT_READ_URI_PERMISSION)
      }
    activity.startActivity(Intent.createChooser(send, null))
    invoke.resolve()
  }

  /** Commands are called on the thread of the window, which must not wait: the line answers. */
  @Command
  fun opened(invoke: Invoke) =
    line.execute {
      val answer = JSObject()
      opened?.let { answer.put("what", it) }
      answer.put("unreadable", unreadable)
      opened = null
      unreadable = false
      invoke.resolve(answer)
    }

  /** A webview can't be relied on for this: its wake lock is not on every phone's. */
  @Command
  fun keepAwake(invoke: Invoke) {
    val flag = WindowManager.LayoutParams.FLAG_KEEP_SCREEN_ON
    if (invoke.parseArgs(AwakeArgs::class.java).awake) activity.window.addFlags(flag)
    else activity.window.clearFlags(flag)
    invoke.resolve()
  }

  private fun note(intent: Intent?) {
    // Reopened from the list of recent apps, the old intent comes again.
    if (intent == null || intent.flags and Intent.FLAG_ACTIVITY_LAUNCHED_FROM_HISTORY != 0) return
    val uri =
      when (intent.action) {
        Intent.ACTION_VIEW -> intent.data
        Intent.ACTION_SEND ->
          IntentCompat.getParcelableExtra(intent, Intent.EXTRA_STREAM, Uri::class.java)
        else -> null
      } ?: return
    when (uri.scheme) {
      "swarfbook" -> {
        val link = uri.toString()
        // Our hub's links are plain ASCII. Tauri 2.12 takes Java's own bytes of a text for UTF-8,
        // and ends the app at a letter beyond 16 bits: a stranger's link must not get that far.
        if (link.all { it in ' '..'~' }) line.execute { opened = link }
      }
      // Large files take their time, and the leave to read one ends with this activity.
      "content" -> line.execute { take(uri) }
    }
  }

  private fun take(uri: Uri) {
    val file = File(File(activity.cacheDir, "opened").apply { mkdirs() }, "export.zip")
    try {
      val from = activity.contentResolver.openInputStream(uri)
      from?.use { file.outputStream().use { to -> it.copyTo(to) } }
      opened = file.path
      unreadable = from == null
    } catch (_: Exception) {
      // Another app's provider answers here, and may fail in any way; none may end this app.
      file.delete()
      unreadable = true
    }
    if (unreadable) opened = null
  }
}

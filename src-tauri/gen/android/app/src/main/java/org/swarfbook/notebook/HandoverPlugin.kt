package org.swarfbook.notebook

import android.app.Activity
import android.content.ClipData
import android.content.Intent
import android.net.Uri
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
import java.io.IOException

@InvokeArg
class ShareArgs {
  /** A file in the outbox, which res/xml/file_paths.xml opens to the share sheet. */
  lateinit var path: String

  /** Its media type. */
  lateinit var kind: String
}

/** Files out by the share sheet; links and exports in. src-tauri/src/handover is the other side. */
@TauriPlugin
class HandoverPlugin(private val activity: Activity) : Plugin(activity) {
  /** The link, or the path of our own copy of the file, that the app was opened with last. */
  @Volatile private var opened: String? = null

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

  @Command
  fun opened(invoke: Invoke) {
    val answer = JSObject()
    opened?.let { answer.put("what", it) }
    opened = null
    invoke.resolve(answer)
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
    if (uri.scheme == "swarfbook") {
      opened = uri.toString()
    } else if (uri.scheme == "content") {
      // Large files take their time, and the leave to read one ends with this activity.
      Thread { opened = copy(uri) }.start()
    }
  }

  private fun copy(uri: Uri): String? =
    try {
      val file = File(File(activity.cacheDir, "opened").apply { mkdirs() }, "export.zip")
      activity.contentResolver.openInputStream(uri)?.use { from ->
        file.outputStream().use { to -> from.copyTo(to) }
        file.path
      }
    } catch (_: IOException) {
      null
    } catch (_: SecurityException) {
      null
    }
}

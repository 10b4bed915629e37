@file:Suppress("UNUSED_PARAMETER")

package android.content

import android.net.Uri
import android.os.Parcelable
import java.io.File
import java.io.InputStream

abstract class Context {
  val packageName: String = TODO()
  val cacheDir: File = TODO()
  val contentResolver: ContentResolver = TODO()

  fun startActivity(intent: Intent) {}
}

abstract class ContentResolver {
  fun openInputStream(uri: Uri): InputStream? = TODO()
}

class ClipData {
  companion object {
    @JvmStatic fun newRawUri(label: CharSequence?, uri: Uri): ClipData = TODO()
  }
}

open class Intent() : Parcelable {
  constructor(action: String) : this()

  var action: String? = null
  var data: Uri? = null
  var type: String? = null
  var flags: Int = 0
  var clipData: ClipData? = null

  fun addFlags(flags: Int): Intent = this

  fun putExtra(name: String, value: Parcelable?): Intent = this

  companion object {
    const val ACTION_MAIN = "android.intent.action.MAIN"
    const val ACTION_VIEW = "android.intent.action.VIEW"
    const val ACTION_SEND = "android.intent.action.SEND"
    const val EXTRA_STREAM = "android.intent.extra.STREAM"
    const val FLAG_GRANT_READ_URI_PERMISSION = 0x00000001
    const val FLAG_ACTIVITY_LAUNCHED_FROM_HISTORY = 0x00100000

    @JvmStatic fun createChooser(target: Intent, title: CharSequence?): Intent = target
  }
}

@file:Suppress("UNUSED_PARAMETER")

package androidx.core.content

import android.content.Context
import android.content.Intent
import android.net.Uri
import java.io.File

object ContextCompat {
  @JvmStatic fun getColor(context: Context, id: Int): Int = TODO()
}

class FileProvider {
  companion object {
    @JvmStatic fun getUriForFile(context: Context, authority: String, file: File): Uri = TODO()
  }
}

object IntentCompat {
  @JvmStatic fun <T> getParcelableExtra(intent: Intent, name: String?, clazz: Class<T>): T? = TODO()
}

// What our Kotlin uses of Android, as its reference says (API 26 and later), without bodies.
@file:Suppress("UNUSED_PARAMETER")

package android.app

import android.content.Context
import android.content.Intent
import android.view.View
import android.view.Window

open class Activity : Context() {
  var intent: Intent? = null
  val window: Window = TODO()

  open fun <T : View> findViewById(id: Int): T = TODO()
}

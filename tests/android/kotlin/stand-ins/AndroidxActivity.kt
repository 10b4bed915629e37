@file:Suppress("UNUSED_PARAMETER")

package androidx.activity

import android.app.Activity

open class ComponentActivity : Activity()

class SystemBarStyle private constructor() {
  companion object {
    @JvmStatic fun dark(scrim: Int): SystemBarStyle = TODO()
  }
}

fun ComponentActivity.enableEdgeToEdge(
  statusBarStyle: SystemBarStyle = TODO(),
  navigationBarStyle: SystemBarStyle = TODO(),
) {}

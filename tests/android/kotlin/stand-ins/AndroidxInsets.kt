@file:Suppress("UNUSED_PARAMETER")

package androidx.core.view

import android.view.View

class Insets(val left: Int, val top: Int, val right: Int, val bottom: Int)

class WindowInsetsCompat private constructor() {
  fun getInsets(typeMask: Int): Insets = TODO()

  object Type {
    @JvmStatic fun systemBars(): Int = TODO()

    @JvmStatic fun displayCutout(): Int = TODO()

    @JvmStatic fun ime(): Int = TODO()
  }

  companion object {
    @JvmField val CONSUMED: WindowInsetsCompat = TODO()
  }
}

fun interface OnApplyWindowInsetsListener {
  fun onApplyWindowInsets(v: View, insets: WindowInsetsCompat): WindowInsetsCompat
}

object ViewCompat {
  @JvmStatic
  fun setOnApplyWindowInsetsListener(view: View, listener: OnApplyWindowInsetsListener?) {}
}

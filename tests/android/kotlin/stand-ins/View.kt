@file:Suppress("UNUSED_PARAMETER")

package android.view

open class View {
  fun setPadding(left: Int, top: Int, right: Int, bottom: Int) {}
}

abstract class Window {
  fun addFlags(flags: Int) {}

  fun clearFlags(flags: Int) {}
}

interface WindowManager {
  object LayoutParams {
    const val FLAG_KEEP_SCREEN_ON = 0x00000080
  }
}

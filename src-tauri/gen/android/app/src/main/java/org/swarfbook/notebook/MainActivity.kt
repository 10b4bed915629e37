package org.swarfbook.notebook

import android.content.Intent
import android.os.Bundle
import android.view.View
import androidx.activity.SystemBarStyle
import androidx.activity.enableEdgeToEdge
import androidx.core.content.ContextCompat
import androidx.core.view.ViewCompat
import androidx.core.view.WindowInsetsCompat

class MainActivity : TauriActivity() {
  override fun onCreate(savedInstanceState: Bundle?) {
    // Made anew by the system, after low memory or a change of display: what the app was opened
    // with was noted then, and is not opened again.
    if (savedInstanceState != null) intent = Intent(Intent.ACTION_MAIN)
    // Light letters on the bay's paper behind the bars, whatever the system's own theme is.
    val paper = SystemBarStyle.dark(ContextCompat.getColor(this, R.color.paper))
    enableEdgeToEdge(paper, paper)
    super.onCreate(savedInstanceState)
    stayClear()
  }

  /**
   * Keeps the screens clear of bars, cut-outs and the keyboard. A window that goes from edge to
   * edge is not made smaller by the keyboard any more, and only new webviews tell a page of any of
   * these by env(); so it is done here, and the webview is told that there is nothing left to avoid.
   */
  private fun stayClear() {
    val avoided =
      WindowInsetsCompat.Type.systemBars() or
        WindowInsetsCompat.Type.displayCutout() or
        WindowInsetsCompat.Type.ime()
    ViewCompat.setOnApplyWindowInsetsListener(findViewById<View>(android.R.id.content)) { view, insets ->
      val edges = insets.getInsets(avoided)
      view.setPadding(edges.left, edges.top, edges.right, edges.bottom)
      WindowInsetsCompat.CONSUMED
    }
  }
}

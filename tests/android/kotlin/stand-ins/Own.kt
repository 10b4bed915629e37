// What Gradle makes for the app: its resources, and Tauri's activity (its template's shape).
package org.swarfbook.notebook

import android.os.Bundle
import androidx.appcompat.app.AppCompatActivity

object R {
  object color {
    const val paper = 1
  }
}

abstract class TauriActivity : AppCompatActivity() {
  override fun onCreate(savedInstanceState: Bundle?) {}
}

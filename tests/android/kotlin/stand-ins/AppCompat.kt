package androidx.appcompat.app

import android.os.Bundle
import androidx.activity.ComponentActivity

open class AppCompatActivity : ComponentActivity() {
  protected open fun onCreate(savedInstanceState: Bundle?) {}
}

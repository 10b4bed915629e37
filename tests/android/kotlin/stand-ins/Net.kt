package android.net

import android.os.Parcelable

abstract class Uri : Parcelable {
  abstract val scheme: String?
}

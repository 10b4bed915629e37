package android.webkit

open class WebView : android.view.View()

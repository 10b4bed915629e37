package android

object R {
  object id {
    const val content = 0x01020002
  }
}

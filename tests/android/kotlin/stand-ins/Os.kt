package android.os

interface Parcelable

class Bundle

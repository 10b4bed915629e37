package app.tauri.annotation

annotation class Command

annotation class InvokeArg

annotation class TauriPlugin

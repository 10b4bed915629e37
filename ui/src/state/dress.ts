/** Puts hand, paper and glove on the page, for the styles to act on, and speaks the language chosen. */
import type { Settings } from '../door/types/Settings';
import { speak } from '../words';

export function dress(settings: Settings): void {
  const root = document.documentElement;
  root.dataset.hand = settings.hand;
  root.dataset.paper = settings.paper;
  root.dataset.glove = settings.glove ? 'on' : 'off';
  if (settings.language) void speak(settings.language);
  const ground = getComputedStyle(root).getPropertyValue('--ground').trim();
  document.querySelector('meta[name="theme-color"]')?.setAttribute('content', ground);
}

/** The screens outside of a job, a row each: where it is, what draws it, how the list of more calls it. */
import type { Component } from 'svelte';
import { say } from '../words';
import HowTo from './HowTo.svelte';
import Instruments from './Instruments.svelte';
import Jobs from './Jobs.svelte';
import More from './More.svelte';
import Procedures from './Procedures.svelte';
import Record from './Record.svelte';
import Settings from './Settings.svelte';
import Sync from './Sync.svelte';
import TakeIn from './TakeIn.svelte';
import Tour from './Tour.svelte';

export interface Screen {
  /** First word of its path. */
  at: string;
  shows: Component<{ [prop: string]: never }>;
  /** What leads to it from the list of more; left out where another screen does. */
  word?: () => string;
}

/** In the order of the list. */
export const screens: readonly Screen[] = [
  { at: 'help', shows: HowTo, word: () => say('how-to-title') },
  { at: 'tour', shows: Tour, word: () => say('tour-title') },
  { at: 'settings', shows: Settings, word: () => say('more-settings') },
  { at: 'instruments', shows: Instruments, word: () => say('instruments-title') },
  { at: 'procedures', shows: Procedures, word: () => say('more-procedures') },
  { at: 'record', shows: Record, word: () => say('more-record') },
  { at: 'sync', shows: Sync, word: () => say('more-sync') },
  { at: 'take-in', shows: TakeIn },
  { at: 'more', shows: More },
];

/** An address that nobody knows leads to the jobs. */
export const screenAt = (at: string): Screen['shows'] =>
  screens.find((screen) => screen.at === at)?.shows ?? Jobs;

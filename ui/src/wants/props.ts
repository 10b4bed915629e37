import type { JobView } from '../door/types/JobView';
import type { StepView } from '../door/types/StepView';
import type { WantView } from '../door/types/WantView';

export type WantKind = WantView['kind'];
export type WantOf<K extends WantKind> = Extract<WantView, { kind: K }>;

/** What every editor of evidence gets. */
export interface WantProps<K extends WantKind> {
  job: JobView;
  step: StepView;
  want: WantOf<K>;
  /** Stay open though the log holds something: more may come. */
  onhold: () => void;
  /** Finished with this one. */
  ondone: () => void;
  /** No more of these: the step is done when nothing else is missing. */
  onenough: () => void;
}

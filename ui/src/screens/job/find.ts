/** Finding one's way in a job's view. */
import type { PhotoView } from '../../door/types/PhotoView';
import type { JobView } from '../../door/types/JobView';
import type { PhotoSubject } from '../../door/types/PhotoSubject';
import type { StageView } from '../../door/types/StageView';
import type { StepView } from '../../door/types/StepView';
import type { WantView } from '../../door/types/WantView';

export function stepOf(job: JobView, id: string): StepView | undefined {
  for (const stage of job.stages) {
    const step = stage.steps.find((one) => one.id === id);
    if (step) return step;
  }
  return undefined;
}

export function stageOf(job: JobView, step: string): StageView | undefined {
  return job.stages.find((stage) => stage.steps.some((one) => one.id === step));
}

/** One want among those of its step. */
export function wantKey(want: WantView): string {
  if ('topic' in want) return `${want.kind} ${want.topic}`;
  if (want.kind === 'photo') return `photo ${want.subject}`;
  if (want.kind === 'readings') return `readings ${want.quantity}`;
  return want.kind;
}

/** The first want that the step can't be ticked without and that the log does not hold. */
export function firstMissing(step: StepView): WantView | undefined {
  return step.wants.find((want) => !want.have && !want.optional);
}

/** What the camera is most likely wanted for at this step. */
export function photoWanted(step: StepView): PhotoSubject | undefined {
  const photos = step.wants.filter((want) => want.kind === 'photo');
  return (photos.find((want) => !want.have) ?? photos[0])?.subject;
}

/** The first photo that the machine alone counted, where score and advice rest on one. */
export function firstUnconfirmed(job: JobView): PhotoView | undefined {
  if (!job.wear?.not_confirmed) return undefined;
  return job.photos.find((one) => one.census && !one.census.problem && !one.census.confirmed);
}

/** A photo under review: what was read in it, what is chosen, and what the taps write. */
import { call } from '../../../door';
import type { Correction } from '../../../door/types/Correction';
import type { JobView } from '../../../door/types/JobView';
import type { LinkOffer } from '../../../door/types/LinkOffer';
import type { ParticleView } from '../../../door/types/ParticleView';
import type { PhotoCensusView } from '../../../door/types/PhotoCensusView';
import { pieceAt } from '../../../debris/hit';
import { draft } from '../../../state/draft.svelte';
import { back, jobPath, swap } from '../../../state/route.svelte';
import {
  attempt,
  dismiss,
  jobCall,
  read,
  session,
  staysInPlace,
  write,
} from '../../../state/session.svelte';
import type { NextAction } from '../../../state/thumb.svelte';
import { say, words } from '../../../words';
import type { Panel } from './Tabs.svelte';
import { everything, shown, type Filter } from './filter';
import { helpOf, helps, hintsOf, noHelp, tapped } from './help';
import { groups, lay, nothingLaid, numbersOf, type Laid } from './order';

/** An outline is being cut or joined, with the taps so far. */
interface Redraw {
  how: 'cut' | 'join';
  taps: [number, number][];
}

export class Review {
  view = $state.raw<PhotoCensusView | null>(null);
  selected = $state<number | null>(null);
  panel = $state<Panel | null>(null);
  filter = $state.raw<Filter>(everything);
  wantsPhoto = $state(false);
  redraw = $state.raw<Redraw | null>(null);
  laid = $state.raw<Laid>(nothingLaid);
  /** The pieces of one reason of the score, as it was opened from there. */
  ofReason = $state.raw<number[]>([]);
  /** Confirmed by a tap, and not in the log yet: in the order of the taps. */
  private waiting = $state.raw<ParticleView[]>([]);
  readonly help;

  constructor(
    private readonly job: () => JobView,
    private readonly entry: string,
    only: string,
  ) {
    this.ofReason = only ? only.split('.').map(Number) : [];
    this.help = draft(`hints ${entry}`, noHelp);
  }

  photo = $derived.by(
    () => this.view?.photo ?? this.job().photos.find((one) => one.entry === this.entry),
  );
  pieces = $derived.by(() =>
    this.view
      ? shown(this.view.particles, this.filter).filter(
          (one) => this.ofReason.length === 0 || this.ofReason.includes(one.index),
        )
      : [],
  );
  piece = $derived(this.pieces.find((one) => one.index === this.selected) ?? null);
  some = $derived((this.view?.particles.length ?? 0) > 0);
  /** The pieces lie in the tray; else the photo is shown, as where taps say a place in it. */
  tray = $derived(this.some && !this.wantsPhoto && this.panel !== 'help' && this.redraw === null);
  pending = $derived(numbersOf(this.waiting));
  /** It may be said of all at once, and all are in view. */
  noneAtOnce = $derived(
    (this.view?.none_at_once ?? false) &&
      this.pieces.length === this.view?.particles.length &&
      this.pending.size === 0,
  );
  inOrder = $derived(groups(this.laid, this.pieces).flatMap((group) => group.pieces));

  private readonly toStep = (): void => back(jobPath(this.job().id));

  private take(reply: { photo: PhotoCensusView; job: JobView } | null): void {
    if (!reply) return;
    this.view = reply.photo;
    session.job = reply.job;
    this.laid = lay(this.laid, reply.photo.particles);
    // What is in force is what one goes on from, unless something is half done.
    const { value } = this.help;
    if (!helps(value) && value.taps.length === 0) this.help.done(helpOf(reply.photo.hints));
    if (reply.photo.wants_taps && !this.panel) this.panel = 'help';
  }

  async load(stays = false): Promise<void> {
    const photo = { job: this.job().id, photo: this.entry };
    this.take(await read(() => call({ do: 'photo', ...photo }), stays));
  }

  private readonly countAgain = async (): Promise<void> => {
    const photo = { job: this.job().id, photo: this.entry };
    this.take(await attempt(say('busy-reading'), () => call({ do: 'take_census', ...photo })));
  };

  point(at: [number, number], reach: number): void {
    if (this.panel === 'help') this.help.value = tapped(this.help.value, at);
    else if (this.redraw && this.piece) void this.redrawAt(this.redraw, this.piece, at, reach);
    else this.selected = pieceAt(at, this.pieces, reach)?.index ?? null;
  }

  stepBy(by: number): void {
    const now = this.inOrder.findIndex((one) => one.index === this.selected);
    this.selected = this.inOrder.at((now + by) % this.inOrder.length)?.index ?? null;
  }

  /** The first tap says that it is what it is said to be, and brings the keys that say otherwise. */
  async tap(one: ParticleView): Promise<void> {
    this.panel = null;
    this.selected = one.index;
    if (one.confirmed || this.pending.has(one.index) || this.photo?.census?.confirmed) return;
    this.waiting = [...this.waiting, one];
    if (this.waiting.length > 1) return;
    for (let first = this.waiting[0]; first; first = this.waiting[0]) {
      const kept = await this.correct({ is: 'debris', class: first.class }, first);
      this.waiting = kept ? this.waiting.slice(1) : [];
    }
  }

  show(one: ParticleView): void {
    this.panel = null;
    this.selected = one.index;
    this.wantsPhoto = true;
  }

  async correct(to: Correction, of = this.piece): Promise<boolean> {
    if (!of) return false;
    const fact = {
      fact: 'particle_corrected',
      photo: this.entry,
      at_px: of.at_px,
      to,
    } as const;
    const written = (await write(fact)) !== null;
    if (written) await this.load(staysInPlace(fact));
    return written;
  }

  /** Each is a line of its own, as if said one after another, and then the count that is left. */
  async noneIsDebris(): Promise<void> {
    for (const one of this.pieces) {
      if (!(await this.correct({ is: 'not_debris' }, one))) return;
    }
    await this.standBy();
  }

  private async redrawAt(
    now: Redraw,
    of: ParticleView,
    at: [number, number],
    reach: number,
  ): Promise<void> {
    if (now.how === 'join') {
      const others = this.pieces.filter((one) => one.index !== of.index);
      const other = pieceAt(at, others, reach);
      if (!other) return;
      this.redraw = null;
      await this.correct({ is: 'joined', with_px: other.at_px });
      return;
    }
    const [first] = now.taps;
    this.redraw = first ? null : { how: 'cut', taps: [at] };
    if (first) await this.correct({ is: 'parted', along_px: [first, at] });
  }

  async belong({ to, link }: LinkOffer): Promise<void> {
    if (await write({ fact: 'photo_linked', photo: this.entry, to, link })) await this.load();
  }

  private readonly readAgain = async (): Promise<void> => {
    const hints = hintsOf($state.snapshot(this.help.value));
    if (!(await write({ fact: 'photo_hinted', photo: this.entry, hints }))) return;
    this.panel = null;
    await this.countAgain();
  };

  readonly again = async (): Promise<void> => {
    if (!this.photo) return;
    const { step, subject } = this.photo;
    const { id } = this.job();
    const reason = say('photo-taken-again');
    const retract = { do: 'retract', job: id, entry: this.entry, reason } as const;
    if (await jobCall(say('busy-undoing'), retract)) swap(jobPath(id, 'camera', step, subject));
  };

  private readonly standBy = async (): Promise<void> => {
    if (await write({ fact: 'census_confirmed', photo: this.entry })) this.toStep();
  };

  /** The one thing to press next. */
  next(): NextAction {
    const { view, photo } = this;
    const ready = true;
    if (!view || !photo) {
      const run = (): Promise<void> => {
        dismiss();
        return this.load();
      };
      return { label: say('thumb-try-again'), ready, run };
    }
    const census = photo.census;
    if (!photo.countable || census?.confirmed) {
      return { label: say('thumb-to-job'), ready, run: this.toStep };
    }
    if (this.panel === 'help') {
      const help = this.help.value;
      return helps(help)
        ? { label: say('help-read-again'), ready, run: this.readAgain }
        : {
            label: words.help.notYet(help.mode, help.taps.length),
            ready: false,
            run: this.countAgain,
          };
    }
    if (!census) return { label: say('review-read'), ready, run: this.countAgain };
    if (census.problem) return { label: say('photo-again'), ready, run: this.again };
    const debris = view.particles.filter((one) => !one.not_debris);
    const left = debris.filter((one) => !one.confirmed).length;
    const label =
      left < debris.length
        ? say('tray-rest', { left, all: census.n })
        : say('review-stand-by', { n: census.n });
    return { label, ready, run: this.standBy };
  }
}

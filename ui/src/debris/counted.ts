/** The pieces that a reason counts, with the pictures to cut their close-ups from. */
import { call } from '../door';
import type { JobView } from '../door/types/JobView';
import type { ParticleView } from '../door/types/ParticleView';
import type { PhotoCensusView } from '../door/types/PhotoCensusView';
import type { ReasonPieces } from '../door/types/ReasonPieces';
import { pictureOf } from './picture';

export interface Seen {
  piece: ParticleView;
  picture: HTMLImageElement;
  size: [number, number] | null;
}

/** Asked for once for all reasons, until the job has another line. */
let asked: { state: string; photos: Map<string, Promise<PhotoCensusView>> } | null = null;

function photoOf(job: JobView, photo: string): Promise<PhotoCensusView> {
  const state = `${job.id} ${job.lines}`;
  if (asked?.state !== state) asked = { state, photos: new Map() };
  const { photos } = asked;
  const there = photos.get(photo) ?? call({ do: 'photo', job: job.id, photo }).then((r) => r.photo);
  photos.set(photo, there);
  return there;
}

/** Pieces in the order of looking: the gravest first. */
export async function piecesOf(job: JobView, of: readonly ReasonPieces[]): Promise<Seen[]> {
  const seen = await Promise.all(
    of.map(async ({ photo, pieces }) => {
      const view = await photoOf(job, photo);
      const picture = await pictureOf(view.photo.photo);
      return view.particles
        .filter((piece) => pieces.includes(piece.index))
        .map((piece) => ({ piece, picture, size: view.size_px }));
    }),
  );
  return seen.flat().sort((a, b) => a.piece.rank - b.piece.rank);
}

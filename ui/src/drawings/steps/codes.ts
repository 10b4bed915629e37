import { type Drawing, type Mark, put } from '../mark';
import * as s from '../shapes';
import { line } from './lines';

/** Read at the socket, written on a sheet. */
export const codes = (page: readonly Mark[]): Drawing => [
  put(s.socket, 62, 44),
  put(s.lead, 62, 60),
  put(line('M92 90c0 20 34 8 34-10')),
  put(s.arrow(26), 112, 44),
  put(s.sheet, 182, 76, { scale: 1.3 }),
  put(page, 182, 76, { scale: 1.3 }),
];

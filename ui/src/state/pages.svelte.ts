/** The list of jobs, page by page, so that 3,000 cost no more than 30. */
import { asProblem, call } from '../door';
import type { JobLine } from '../door/types/JobLine';
import { session } from './session.svelte';
import { changed } from './settle.svelte';

const PAGE = 50;

export class JobPages {
  total = $state<number | null>(null);
  private lines = $state.raw<ReadonlyMap<number, JobLine>>(new Map());
  private asked = new Set<number>();
  private search = '';

  at(index: number): JobLine | undefined {
    return this.lines.get(index);
  }

  /** Starts anew with other words. */
  async find(search: string): Promise<void> {
    this.search = search;
    this.asked = new Set();
    this.lines = new Map();
    await this.page(0);
    changed();
  }

  /** Sees to it that the lines from `first` to `last` come. */
  show(first: number, last: number): void {
    for (let page = Math.floor(first / PAGE); page <= Math.floor(last / PAGE); page += 1) {
      void this.page(page);
    }
  }

  private async page(page: number): Promise<void> {
    if (page < 0 || this.asked.has(page)) return;
    this.asked.add(page);
    const search = this.search;
    try {
      const reply = await call({ do: 'jobs', search, skip: page * PAGE, limit: PAGE });
      if (search !== this.search) return;
      const lines = new Map(this.lines);
      reply.jobs.forEach((line, index) => lines.set(page * PAGE + index, line));
      this.lines = lines;
      this.total = reply.total;
    } catch (cause) {
      this.asked.delete(page);
      session.trouble = { problem: asProblem(cause) };
    }
  }
}

/** A door for tests, in the place of Tauri's: each command's answer is given by the test. */
import { vi } from 'vitest';
import type { Command } from '../../src/door/types/Command';
import type { Reply } from '../../src/door/types/Reply';

type Answers = { [D in Command['do']]?: (command: Extract<Command, { do: D }>) => unknown };

export interface Door {
  /** What was asked, in order. */
  asked: Command[];
  answers: Answers;
  /** What the shell's own commands answer, by name. */
  shell: Record<string, (payload: unknown) => unknown>;
  of<D extends Command['do']>(kind: D): Extract<Command, { do: D }>[];
}

export function openDoor(answers: Answers): Door {
  const asked: Command[] = [];
  const door: Door = {
    asked,
    answers,
    shell: { strays: () => [] },
    of: (kind) => asked.filter((one) => one.do === kind) as never,
  };
  const invoke = vi.fn(async (name: string, payload: unknown) => {
    if (name === 'put_photo') return { photo: 'cd'.repeat(32) };
    if (name !== 'call') return door.shell[name]?.(payload) ?? { what: 'nothing' };
    const { command } = JSON.parse(JSON.stringify(payload)) as { command: Command };
    asked.push(command);
    const answer = door.answers[command.do] as ((c: Command) => unknown) | undefined;
    if (!answer) return { reply: 'done' } satisfies Reply;
    return answer(command);
  });
  (window as unknown as Record<string, unknown>).__TAURI_INTERNALS__ = { invoke };
  return door;
}

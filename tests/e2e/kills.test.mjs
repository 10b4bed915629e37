// Killed at 200 random moments of a recorded job, and opened again each time: what was answered for is
// there, what was on its way is there whole or not at all, the job stands at the same step, and the app
// opens on the same screen of it.
import assert from 'node:assert/strict';
import { createHash } from 'node:crypto';
import { execFileSync, spawn } from 'node:child_process';
import { mkdirSync, mkdtempSync, readFileSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { basename, join } from 'node:path';
import { test } from 'node:test';
import { setTimeout as pause } from 'node:timers/promises';
import { SETTINGS } from './support/facts.mjs';
import { BIN } from './support/hub.mjs';
import { Door, commandOf, demoJob, plain } from './support/recorded.mjs';

const KILLS = 200;
const PHOTO_KILLS = 40;

test(`a job killed at ${KILLS} random moments stands as it was`, async (t) => {
  const { lines, photos } = await demoJob(t);
  const recorded = await record(t, lines, photos);
  assert.ok(recorded.steps.length > 60, `${recorded.steps.length} commands`);
  let kills = 0;
  let written = 0;
  while (kills < KILLS) {
    const data = folder(t);
    putAll(data, photos);
    const names = new Map();
    let door = new Door(data);
    t.after(() => door.kill());
    const job = await open(door);
    for (const [n, step] of recorded.steps.entries()) {
      const before = n === 0 ? recorded.opened : recorded.steps[n - 1].after;
      let stands = before;
      const place = `step/${step.line.body.step ?? before.step_in_hand}`;
      await door.ask({ do: 'stand_at', job, place });
      // About three kills for each command, as long as the first did not come too late.
      for (let tries = 0; tries < 3 && stands === before && kills < KILLS; tries += 1) {
        // A line that the kill cut is no answer.
        const answer = door.ask(commandOf(step.line, job, names)).catch(() => null);
        await pause(Math.random() * step.took * 1.3);
        await door.kill();
        kills += 1;
        const reply = await answer;
        door = new Door(data);
        const { start } = await door.ask({ do: 'start' });
        assert.deepEqual([start.job, start.place], [job, place], 'opens on the same screen');
        const view = (await door.ask({ do: 'job', job })).job;
        stands = same(view, before) ? before : same(view, step.after) ? step.after : null;
        // Neither as before it nor as after it: say what differs.
        if (!stands) assert.deepEqual(plain(view), step.after, step.line.body.fact);
        assert.ok(!reply || stands === step.after, `${step.line.body.fact} was answered for and is gone`);
        written += stands === step.after ? 1 : 0;
      }
      if (stands === before) {
        const reply = await door.ask(commandOf(step.line, job, names));
        assert.ok(!reply.problem, JSON.stringify(reply));
      }
      names.set(step.line.id, (await log(door, job))[step.at]?.entry);
    }
    await door.close();
  }
  t.diagnostic(`${kills} kills, ${written} of them after the line was on disk`);
  assert.ok(written > KILLS / 20 && written < KILLS, 'the kills fell before and after the write');
});

test(`a photo killed at ${PHOTO_KILLS} random moments of its way to disk is there whole or not at all`, async (t) => {
  const data = folder(t);
  const { photos } = await demoJob(t);
  const [[name, bytes]] = photos;
  assert.equal(sha256(bytes), name);
  const file = join(data, '..', `${name}.jpg`);
  writeFileSync(file, bytes);
  t.after(() => rmSync(file));
  const from = performance.now();
  execFileSync(BIN, ['photo', file, '--data', data], { stdio: 'pipe' });
  // Within which a kill falls; it follows how fast the machine is at the moment, so that some fall after the answer.
  let reach = (performance.now() - from) * 1.3;
  let answered = 0;
  for (let n = 0; n < PHOTO_KILLS; n += 1) {
    rmSync(data, { recursive: true });
    mkdirSync(data);
    const child = spawn(BIN, ['photo', file, '--data', data], { stdio: ['ignore', 'pipe', 'ignore'] });
    let said = '';
    child.stdout.on('data', (text) => (said += text));
    const ended = new Promise((done) => child.on('close', done));
    await pause(Math.random() * reach);
    child.kill('SIGKILL');
    await ended;
    reach *= said.includes(name) ? 0.95 : 1.1;
    const [got] = readdirSync(data, { recursive: true }).filter((path) => basename(path) === name);
    if (said.includes(name)) answered += 1;
    if (said.includes(name)) assert.ok(got, 'answered for and gone');
    if (got) assert.equal(sha256(readFileSync(join(data, got))), name, 'a photo in part');
  }
  t.diagnostic(`${answered} of ${PHOTO_KILLS} were answered for before the kill`);
  assert.ok(answered > 0 && answered < PHOTO_KILLS, 'the kills fell before and after the answer');
});

/** The job made once without a kill: each command that is taken, how long it took, what the job is then. */
async function record(t, lines, photos) {
  const data = folder(t);
  putAll(data, photos);
  const door = new Door(data);
  t.after(() => door.kill());
  const job = await open(door);
  const opened = plain((await door.ask({ do: 'job', job })).job);
  const names = new Map();
  const steps = [];
  for (const line of lines) {
    const command = commandOf(line, job, names);
    if (!command) continue;
    const from = performance.now();
    const reply = await door.ask(command);
    const took = performance.now() - from;
    // A step that ticked itself with its last evidence is not ticked again.
    if (reply.problem) continue;
    const after = plain((await door.ask({ do: 'job', job })).job);
    const at = (await log(door, job)).findIndex(({ entry }) => entry === reply.entry);
    names.set(line.id, reply.entry);
    steps.push({ line, took, after, at });
  }
  await door.close();
  return { opened, steps };
}

const log = async (door, job) => (await door.ask({ do: 'log', job })).lines;

async function open(door) {
  await door.ask({ do: 'save_settings', settings: SETTINGS });
  return (await door.ask({ do: 'open_job', procedure: null })).job.id;
}

const same = (view, expected) => {
  try {
    assert.deepEqual(plain(view), expected);
    return true;
  } catch {
    return false;
  }
};

function folder(t) {
  const data = mkdtempSync(join(tmpdir(), 'swarfbook-kills-'));
  t.after(() => rmSync(data, { recursive: true, force: true }));
  return data;
}

function putAll(data, photos) {
  const files = mkdtempSync(join(tmpdir(), 'swarfbook-photos-'));
  for (const [name, bytes] of photos) {
    const file = join(files, name);
    writeFileSync(file, bytes);
    execFileSync(BIN, ['photo', file, '--data', data], { stdio: 'pipe' });
  }
  rmSync(files, { recursive: true });
}

const sha256 = (bytes) => createHash('sha256').update(bytes).digest('hex');

// tauri-driver: stands between WebDriver and the window, and starts the app.
import assert from 'node:assert/strict';
import { spawn } from 'node:child_process';
import { createServer } from 'node:net';
import WebDriver from 'webdriver';

const PATIENCE = 60_000;

export class Driver {
  /** Ends with the test `t`. `data` is the folder that the app gets, `taken` that of the phone's camera. */
  static async start(t, data, taken = '') {
    const [port, native] = [await freePort(), await freePort()];
    const env = { ...process.env, SWARFBOOK_DATA: data, SWARFBOOK_TAKEN: taken, SWARFBOOK_DEMO: '' };
    const child = spawn(
      process.env.TAURI_DRIVER,
      ['--port', String(port), '--native-port', String(native)],
      { env, stdio: ['ignore', 'inherit', 'inherit'] },
    );
    t.after(() => ended(child));
    const end = Date.now() + PATIENCE;
    while (!(await answers(port))) {
      assert.ok(child.exitCode === null && Date.now() < end, 'tauri-driver does not answer');
      await new Promise((done) => setTimeout(done, 100));
    }
    return new Driver(port);
  }

  constructor(port) {
    this.port = port;
  }

  /** Opens the app's window. */
  open() {
    return WebDriver.newSession({
      hostname: '127.0.0.1',
      port: this.port,
      logLevel: 'error',
      connectionRetryCount: 0,
      capabilities: {
        'tauri:options': { application: process.env.SWARFBOOK_SHELL },
        'wdio:enforceWebDriverClassic': true,
      },
    });
  }
}

function ended(child) {
  if (child.exitCode !== null) return undefined;
  const gone = new Promise((done) => child.once('exit', done));
  child.kill('SIGTERM');
  return gone;
}

async function answers(port) {
  try {
    return (await fetch(`http://127.0.0.1:${port}/status`)).ok;
  } catch {
    return false;
  }
}

function freePort() {
  return new Promise((done, failed) => {
    const server = createServer();
    server.once('error', failed);
    server.listen(0, '127.0.0.1', () => {
      const { port } = server.address();
      server.close(() => done(port));
    });
  });
}

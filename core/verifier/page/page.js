// The page around the check. What a file says is shown as text, never as markup.
'use strict';

const every = JSON.parse(document.getElementById('words').textContent);
const own = navigator.language.split('-')[0];
const language = own in every ? own : 'en';
const words = every[language];
const answer = document.getElementById('answer');
const place = document.getElementById('place');
const input = document.getElementById('file');
/** Digits of a key in short. */
const DIGITS = 20;

document.documentElement.lang = language;
document.title = words.title;
for (const at of document.querySelectorAll('[data-word]')) at.textContent = words[at.dataset.word];

function add(to, name, text, kind) {
  const made = document.createElement(name);
  if (text) made.textContent = text;
  if (kind) made.className = kind;
  to.append(made);
  return made;
}

let program = null;

/** Compiled once; run anew for each file, so that none leaves anything for the next. */
async function compiled() {
  if (!program) {
    const text = atob(document.getElementById('wasm').textContent);
    program = await WebAssembly.compile(Uint8Array.from(text, (letter) => letter.charCodeAt(0)));
  }
  return program;
}

function look(exports, bytes) {
  const at = exports.room(bytes.length);
  if (at === 0) throw new Error('too large');
  new Uint8Array(exports.memory.buffer).set(bytes, at);
  const told = exports.check();
  const text = new Uint8Array(exports.memory.buffer, told, exports.told());
  return JSON.parse(new TextDecoder().decode(text));
}

async function take(file) {
  answer.replaceChildren();
  add(answer, 'p', words.working);
  let ready;
  try {
    ready = await compiled();
  } catch {
    answer.replaceChildren();
    add(answer, 'h2', words.no_browser);
    return;
  }
  let told = null;
  try {
    const bytes = new Uint8Array(await file.arrayBuffer());
    const { exports } = await WebAssembly.instantiate(ready, {});
    told = look(exports, bytes);
  } catch {
    // Told below.
  }
  answer.replaceChildren();
  if (!told) {
    add(answer, 'h2', words.unread);
    add(answer, 'p', words.unread_why);
  } else if (told.is === 'whole') {
    whole(told, file.name);
  } else {
    broken(told);
  }
}

function broken(told) {
  add(answer, 'h2', words.broken);
  const list = add(answer, 'ul');
  for (const { fault, name } of told.faults) {
    add(list, 'li', words[`faults_${fault}`].replace('{name}', () => name));
  }
  if (told.more > 0) add(list, 'li', words.more.replace('{name}', String(told.more)));
  add(answer, 'p', words.what_now);
}

function whole(told, name) {
  add(answer, 'h2', words.whole);
  if (told.invented) add(answer, 'p', words.invented);
  const list = add(answer, 'dl');
  const made = new Date(told.made);
  for (const [term, text] of [
    [words.file, name],
    [words.shop, told.shop],
    [words.made, made.toLocaleString(language, { dateStyle: 'long', timeStyle: 'short' })],
    [words.job, told.job],
  ]) {
    if (!text) continue;
    add(list, 'dt', term);
    add(list, 'dd', text);
  }
  add(list, 'dt', words.digits);
  add(list, 'dd', told.digits, 'digits');
  add(answer, 'p', words.whose);
  const label = add(answer, 'label', words.told, 'told');
  const field = add(label, 'input');
  field.id = 'told';
  field.autocomplete = 'off';
  field.spellcheck = false;
  const verdict = add(answer, 'p', '', 'verdict');
  verdict.setAttribute('role', 'status');
  field.addEventListener('input', () => (verdict.textContent = compared(field.value, told.digits)));
  add(answer, 'p', words.withdrawn, 'small');
}

function compared(typed, digits) {
  const only = (text) => text.toLowerCase().replace(/[^0-9a-f]/g, '');
  const said = only(typed);
  if (said === '') return '';
  if (said === only(digits)) return words.same;
  // While it may still become the same, nothing is said of another key.
  return said.length < DIGITS && only(digits).startsWith(said) ? words.short : words.other;
}

input.addEventListener('change', () => {
  if (input.files.length > 0) take(input.files[0]);
});
addEventListener('dragover', (event) => {
  event.preventDefault();
  place.classList.add('over');
});
addEventListener('dragleave', () => place.classList.remove('over'));
addEventListener('drop', (event) => {
  event.preventDefault();
  place.classList.remove('over');
  const file = event.dataTransfer.files[0];
  if (file) take(file);
});

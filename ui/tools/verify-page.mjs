// Puts the page that checks a report together: one file, its program inside, and a
// policy that lets it run that program and its own script, and fetch nothing.
// usage: verify-page.mjs PROGRAM.wasm OUT.html
import { createHash } from 'node:crypto';
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { FluentBundle, FluentResource } from '@fluent/bundle';

const [program, out] = process.argv.slice(2);
const part = (name) =>
  readFileSync(new URL(`../../core/verifier/page/${name}`, import.meta.url), 'utf8');
const hash = (text) => `'sha256-${createHash('sha256').update(text).digest('base64')}'`;

/** The page's messages of every language, by their names in the page; it fills `{name}` itself. */
const folder = new URL('../../core/words/', import.meta.url);
const languages = readdirSync(folder).filter((name) => /^[a-z]{2}$/.test(name));
const words = languages.map((language) => {
  const bundle = new FluentBundle(language, { useIsolating: false });
  const resource = new FluentResource(
    readFileSync(new URL(`${language}/verifier.ftl`, folder), 'utf8'),
  );
  bundle.addResource(resource);
  const said = resource.body.map(({ id, value }) => [
    id.replace('verifier-', '').replaceAll('-', '_'),
    bundle.formatPattern(value, { name: '{name}' }),
  ]);
  return [language, Object.fromEntries(said)];
});

const script = part('page.js');
const style = part('page.css');
if (/<\/script|<!--/i.test(script)) throw new Error('page.js would end its own element');

// Without a policy of its own for scripts, a page can't even compile WebAssembly.
const policy = [
  "default-src 'none'",
  `script-src ${hash(script)} 'wasm-unsafe-eval'`,
  `style-src ${hash(style)}`,
  "base-uri 'none'",
  "form-action 'none'",
].join('; ');

const filled = {
  policy,
  style,
  script,
  without: words.map(([tag, said]) => `<p lang="${tag}">${said.needs_script}</p>`).join(''),
  words: JSON.stringify(Object.fromEntries(words)).replaceAll('<', '\\u003c'),
  wasm: readFileSync(program).toString('base64'),
};
const page = part('page.html').replace(/@(\w+)@/g, (_, name) => filled[name]);
writeFileSync(out, page);

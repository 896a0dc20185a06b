/**
 * Values cross the bridge, words are made where they are shown. The schemas of all messages are walked: a text in them is a name, an
 * id, what a player or a chart wrote, or what another program said, each listed here with what it is.
 */

import { globSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { z } from 'zod';
import { CALLS, type CallName, pushSchema, refusalSchema } from '../../../shared/bridge/index.ts';

/** Texts of a reply by their last name, and whose they are. */
const TEXTS: Readonly<Record<string, string>> = {
  ...{ chartId: 'id', takeId: 'id', lastTakeId: 'id', takeIds: 'id', chartIds: 'id', id: 'id' },
  ...{ lockedIds: 'id', skippedIds: 'id', version: 'id', base64: 'bytes' },
  ...{ title: 'player', chartTitle: 'player', text: 'player', chartText: 'player' },
  ...{ note: 'player', tags: 'player', plan: 'player', deviceName: 'device', outputName: 'device' },
  ...{ name: 'name', file: 'name', chartFile: 'name', folder: 'name', path: 'name', place: 'name' },
  ...{
    key: 'symbol',
    keyAsSet: 'symbol',
    toChord: 'symbol',
    meter: 'symbol',
    chord: 'symbol',
    schema: 'name',
  },
  ...{ known: 'name', manifest: 'name', table: 'name', zone: 'name' },
  /** Of SQLite, of the system, of a reader of JSON: said as they said it. */
  detail: 'another program',
  /** Written by the player's own settings; the renderer owns their meaning. */
  value: 'player',
  /** They come with the program as files, beside charts and their titles. */
  ...{ about: 'shipped text', level: 'shipped text' },
};

interface Found {
  readonly path: string;
  readonly name: string;
}

type Json = { readonly [name: string]: unknown };

const isJson = (value: unknown): value is Json => typeof value === 'object' && value !== null;

/** Every place of a schema that holds a text of any content. */
function textsIn(schema: Json, path: string, name: string): readonly Found[] {
  const own: Found[] =
    schema['type'] === 'string' && !('const' in schema) && !('enum' in schema)
      ? [{ path, name }]
      : [];
  const inner = Object.entries(schema).flatMap(([word, value]): readonly Found[] => {
    if (word === 'properties' && isJson(value)) {
      return Object.entries(value).flatMap(([field, one]) =>
        isJson(one) ? textsIn(one, `${path}.${field}`, field) : [],
      );
    }
    if (['items', 'additionalProperties'].includes(word) && isJson(value)) {
      return textsIn(value, path, name);
    }
    if (['anyOf', 'oneOf', 'allOf', 'prefixItems'].includes(word) && Array.isArray(value)) {
      return value.flatMap((one) => (isJson(one) ? textsIn(one, path, name) : []));
    }
    return [];
  });
  return [...own, ...inner];
}

const unknownTexts = (schema: z.ZodType, path: string): readonly string[] =>
  textsIn(z.toJSONSchema(schema, { unrepresentable: 'any', io: 'output' }) as Json, path, path)
    .filter(({ name }) => !(name in TEXTS))
    .map((found) => found.path);

describe('no message of the host holds a text that is not listed:', () => {
  test.each(Object.keys(CALLS) as CallName[])('%s', (name) => {
    expect(unknownTexts(CALLS[name].reply, name)).toEqual([]);
  });

  test('a refusal, and what is told without being asked', () => {
    expect(unknownTexts(refusalSchema, 'refusal')).toEqual([]);
    expect(unknownTexts(pushSchema, 'push')).toEqual([]);
  });

  test('and a schema with words in it is found', () => {
    const schema = z.strictObject({ rungs: z.array(z.strictObject({ words: z.string() })) });
    expect(unknownTexts(schema, 'ladder')).toEqual(['ladder.rungs.words']);
  });
});

/** Literals of a source: a capital, then words, then a full stop. */
const SENTENCE = /(['"`])[A-Z][a-z’]+(?: [^'"`\n]+){2,}[.!?]\1/gu;
const ROOT = join(import.meta.dirname, '..', '..', '..');

/** What speaks to a terminal, to the player's own desktop, or to a browser that has no page of ours. */
const SPEAKING = /^src\/main\/(?:cli|report-page|desktop|loopback|[^/]+\.ts)/u;

test('no source of the host writes a sentence, but those that do not speak over the bridge', () => {
  const files = globSync('{src/main,shared/bridge}/**/*.ts', { cwd: ROOT });
  expect(files.length).toBeGreaterThan(50);
  const sentences = files
    .filter((file) => !SPEAKING.test(file))
    .flatMap((file) =>
      [...readFileSync(join(ROOT, file), 'utf8').matchAll(SENTENCE)].map(
        ([sentence]) => `${file}: ${sentence}`,
      ),
    );
  expect(sentences).toEqual([]);
});

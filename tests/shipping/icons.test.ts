/** The icons that packages carry: every size there, each the size it claims, the containers whole. */

import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { ICNS_KINDS, icnsOf, icoOf } from '../../scripts/icons/containers.ts';
import { ICO_SIZES, LINUX_SIZES } from '../../scripts/icons/sizes.ts';

const packaging = join(import.meta.dirname, '..', '..', 'packaging');

/** Width and height by the first chunk of a PNG. Source: PNG specification, 11.2.1. */
function pngSize(png: Buffer): readonly [number, number] {
  expect(png.subarray(0, 8).toString('hex')).toBe('89504e470d0a1a0a');
  expect(png.subarray(12, 16).toString()).toBe('IHDR');
  return [png.readUInt32BE(16), png.readUInt32BE(20)];
}

test.each(LINUX_SIZES)('the icon of %s pixels for Linux is that large', (size) => {
  expect(pngSize(readFileSync(join(packaging, 'icons', `${size}x${size}.png`)))).toEqual([
    size,
    size,
  ]);
});

/** The pictures of an .ico by its directory. */
function readIco(ico: Buffer): readonly { readonly size: number; readonly png: Buffer }[] {
  expect([ico.readUInt16LE(0), ico.readUInt16LE(2)]).toEqual([0, 1]);
  return Array.from({ length: ico.readUInt16LE(4) }, (_, index) => {
    const at = 6 + 16 * index;
    const offset = ico.readUInt32LE(at + 12);
    const png = ico.subarray(offset, offset + ico.readUInt32LE(at + 8));
    return { size: ico.readUInt8(at) || 256, png };
  });
}

/** The pictures of an .icns in order. */
function readIcns(icns: Buffer): readonly { readonly kind: string; readonly png: Buffer }[] {
  expect([icns.subarray(0, 4).toString(), icns.readUInt32BE(4)]).toEqual(['icns', icns.length]);
  const pictures = [];
  for (let at = 8; at < icns.length; at += icns.readUInt32BE(at + 4)) {
    const png = icns.subarray(at + 8, at + icns.readUInt32BE(at + 4));
    pictures.push({ kind: icns.subarray(at, at + 4).toString(), png });
  }
  return pictures;
}

test('the icon for Windows has each size it claims', () => {
  const pictures = readIco(readFileSync(join(packaging, 'icon.ico')));
  expect(pictures.map(({ size }) => size)).toEqual(ICO_SIZES);
  for (const { size, png } of pictures) expect(pngSize(png)).toEqual([size, size]);
});

test('the icon for macOS has each size its kinds stand for', () => {
  const pictures = readIcns(readFileSync(join(packaging, 'icon.icns')));
  expect(pictures.map(({ kind, png }) => [kind, pngSize(png)[0]])).toEqual(ICNS_KINDS);
});

describe('a container', () => {
  const pictures = [64, 256].map((size) => ({ size, png: Buffer.alloc(size, size % 251) }));

  test('gives back the pictures put into an .ico', () => {
    expect(readIco(Buffer.from(icoOf(pictures)))).toEqual(pictures);
  });

  test('gives back the pictures put into an .icns, under every kind of their size', () => {
    expect(readIcns(Buffer.from(icnsOf(pictures)))).toEqual([
      { kind: 'ic12', png: pictures[0]?.png },
      { kind: 'ic13', png: pictures[1]?.png },
      { kind: 'ic08', png: pictures[1]?.png },
    ]);
  });
});

test('the page shows the small drawing that packages carry', () => {
  const [page, drawn] = ['../src/renderer/public/icon.svg', 'icon-small.svg'].map((path) =>
    readFileSync(join(packaging, path), 'utf8'),
  );
  expect(page).toBe(drawn);
});

/** Elements as text, every character of the text escaped. */

type Attributes = Readonly<Record<string, string | number>>;

const ESCAPED: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  '\n': '&#10;',
  '\r': '&#13;',
  '\t': '&#9;',
};

/** Characters no XML document may hold. Source: XML 1.0, production 2 (`Char`). */
// biome-ignore lint/suspicious/noControlCharactersInRegex: these are what is taken out
const FORBIDDEN = /[\0-\x08\x0B\x0C\x0E-\x1F\uFFFE\uFFFF]/gu;

function escaped(text: string): string {
  return text.replace(FORBIDDEN, '').replace(/[&<>"\n\r\t]/gu, (sign) => ESCAPED[sign] ?? sign);
}

/** An element with text inside. */
export function leaf(name: string, text: string | number, attributes: Attributes = {}): string {
  return `<${name}${attributeText(attributes)}>${escaped(String(text))}</${name}>`;
}

/** An element with elements inside; without any it is empty. */
export function branch(
  name: string,
  children: readonly string[],
  attributes: Attributes = {},
): string {
  const open = `<${name}${attributeText(attributes)}`;
  return children.length === 0 ? `${open}/>` : `${open}>${children.join('')}</${name}>`;
}

function attributeText(attributes: Attributes): string {
  return Object.entries(attributes)
    .map(([name, value]) => ` ${name}="${escaped(String(value))}"`)
    .join('');
}

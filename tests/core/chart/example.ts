/** The example of `chart-text.md`, character by character. */
export const LANTERN_WALK = `title: Lantern Walk
key: Bb
meter: 4/4
tempo: 66

[A]
| Bbmaj7 | Cm7 F7 | Dm7b5 | G7 <phrygian dominant> |
| Cm7    | %      | Cm7 F7 | Bb6 / / F7 |

plan: side door
[A]
| Bbmaj7 <lydian> | Cm7 B7 <lydian dominant> | Dm7b5 <locrian natural 2> | Db7 <mixolydian> |
| %               | % | % | % |
`;

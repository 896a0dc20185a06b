/** Made by the build: the program's own licence, then those of all packages in it, by name. */
declare module 'linekeeper:licences' {
  interface Licence {
    readonly name: string;
    readonly version: string;
    /** SPDX identifier. */
    readonly licence: string;
    readonly text: string;
  }
  const licences: readonly Licence[];
  export default licences;
}

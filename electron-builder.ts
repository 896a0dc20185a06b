/** What a package holds and how it is made: `npm run package`, told in docs/shipping.md. */

import type { Configuration } from 'electron-builder';

const configuration: Configuration = {
  // The first part is reserved for examples (RFC 2606): who publishes the program puts a name of theirs there, once.
  appId: 'example.linekeeper.desktop',
  productName: 'Linekeeper',
  copyright: 'MIT licence',
  directories: { buildResources: 'packaging', output: 'dist' },

  // What runs is bundled: no sources, no tests, no modules.
  files: [
    'package.json',
    'out/main/**',
    'out/preload/**',
    // The commands are for whoever has Node, which the package is not.
    '!out/main/{grade,chart,line}.cjs',
    'out/renderer/**',
    'shared/charts/*.chart',
    'shared/demo-takes/takes.json',
    'shared/demo-takes/*.mid',
    '!**/node_modules/**',
    // It lies beside the program, where a user finds it.
    '!out/renderer/licences.txt',
  ],
  extraFiles: [{ from: 'out/renderer/licences.txt', to: 'LICENSES.linekeeper.txt' }],
  // There is nothing to compile: no module is packed.
  npmRebuild: false,
  asar: true,

  electronFuses: {
    // The binary is Linekeeper, and nobody's Node.
    runAsNode: false,
    enableNodeOptionsEnvironmentVariable: false,
    enableNodeCliInspectArguments: false,
    // What was packed is what runs.
    onlyLoadAppFromAsar: true,
    enableEmbeddedAsarIntegrityValidation: true,
    enableCookieEncryption: true,
    // The page comes under an address of its own, never as a file.
    grantFileProtocolExtraPrivileges: false,
    loadBrowserProcessSpecificV8Snapshot: false,
  },

  // biome-ignore lint/suspicious/noTemplateCurlyInString: the packager's own placeholders
  artifactName: '${productName}-${version}-${os}-${arch}.${ext}',
  publish: null,

  fileAssociations: [
    {
      ext: 'changes',
      name: 'Linekeeper chart',
      description: 'A tune’s form and chords as text',
      mimeType: 'text/x-linekeeper-chart',
      role: 'Editor',
      rank: 'Owner',
    },
    {
      ext: 'linekeeper',
      name: 'Linekeeper hand-over',
      description: 'A chart with how it is to be practised, or a take of it',
      mimeType: 'application/x-linekeeper',
      role: 'Editor',
      rank: 'Owner',
    },
  ],

  linux: {
    target: ['AppImage', 'deb'],
    icon: 'icons',
    category: 'AudioVideo;Audio;Music;Education',
    synopsis: 'Grades an improvised line against a tune’s chord changes',
    maintainer: 'Linekeeper contributors <contributors@linekeeper.example>',
    vendor: 'Linekeeper contributors',
    executableName: 'linekeeper',
    // The system knows MIDI files; Linekeeper is one of the programs for them.
    mimeTypes: ['audio/midi'],
  },
  deb: { packageCategory: 'sound' },

  mac: {
    target: [{ target: 'dmg', arch: ['x64', 'arm64'] }],
    icon: 'icon.icns',
    category: 'public.app-category.music',
    hardenedRuntime: true,
    fileAssociations: [
      { ext: ['mid', 'midi'], name: 'MIDI file', role: 'Viewer', rank: 'Alternate' },
    ],
  },

  win: { target: 'nsis', icon: 'icon.ico' },
  nsis: {
    oneClick: false,
    perMachine: false,
    allowToChangeInstallationDirectory: true,
    // Associations have no rank on Windows: this one offers MIDI files under “Open with” alone.
    include: 'packaging/installer.nsh',
  },
};

export default configuration;

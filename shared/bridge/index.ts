export * from './as-played.ts';
export * from './contract.ts';
export * from './progress-shapes.ts';
export * from './push.ts';
export * from './repeatable.ts';
export * from './shapes.ts';
export * from './wire.ts';

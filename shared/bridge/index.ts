export * from './contract.ts';
export * from './shapes.ts';

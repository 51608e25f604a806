import { addMissingPackages } from './setup.mjs';

addMissingPackages();

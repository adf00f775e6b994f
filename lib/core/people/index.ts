export { lengthFault } from "./password.ts";
export {
  EVERYWHERE,
  type Grant,
  MAY,
  may,
  mayAnywhere,
  mayRole,
  type Place,
  RIGHT_WORDS,
  RIGHTS,
  type Right,
  ROLES,
  type Role,
} from "./roles.ts";

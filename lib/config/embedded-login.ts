import { type Settings, SettingsError } from "./env.ts";

/** The login of senders at the embedded broker. Throws SettingsError where none is set. */
export function embeddedLogin({ user, password }: Settings["mqtt"]): {
  readonly user: string;
  readonly password: string;
} {
  if (user !== null && password !== null) return { user, password };
  throw new SettingsError("HOMEWATER_MQTT_USER", {
    says: "and HOMEWATER_MQTT_PASSWORD are not set",
    remedy: "set both, the embedded broker accepts nothing without them",
  });
}

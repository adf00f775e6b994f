/** Mean radius of the Earth, km (IUGG, R1). */
const EARTH_RADIUS = 6371.0088;
const RADIANS = Math.PI / 180;

export interface Place {
  /** Degrees, north and east positive; -90 to 90 and -180 to 180. */
  readonly latitude: number;
  readonly longitude: number;
}

/** Distance over a spherical Earth, km; good to about 0.5 %. NaN where a coordinate is not finite. Source: haversine formula (Sinnott 1984). */
export function greatCircle(a: Place, b: Place): number {
  const north = Math.sin(((b.latitude - a.latitude) * RADIANS) / 2) ** 2;
  const east = Math.sin(((b.longitude - a.longitude) * RADIANS) / 2) ** 2;
  const chord = north + Math.cos(a.latitude * RADIANS) * Math.cos(b.latitude * RADIANS) * east;
  return 2 * EARTH_RADIUS * Math.asin(Math.min(1, Math.sqrt(chord)));
}

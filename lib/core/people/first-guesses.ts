/**
 * Passwords that are tried first, and words that stand behind most of them with a digit or a capital. Common practice, no source: a
 * list of our own, from memory and from this trade's words; it does not replace a list of breached passwords.
 */
export const FIRST_GUESSES: ReadonlySet<string> = new Set(
  `password passwort passw0rd pass passphrase changeme letmein welcome login logon signin secret secrets admin administrator root
  user username guest test tester testing demo default master superuser sysadmin system server computer internet network wireless
  qwerty qwertyui qwertyuiop qwertz qwertzui azerty azertyui asdfgh asdfghjk asdfghjkl zxcvbn zxcvbnm 1q2w3e4r 1q2w3e4r5t q1w2e3r4
  qazwsx qazwsxedc 1qaz2wsx zaq12wsx 123qwe 123456 1234567 12345678 123456789 1234567890 0123456789 987654321 0987654321 11111111
  00000000 12341234 12121212 123123123 abc12345 abcd1234 abcdefgh a1b2c3d4 aa123456 iloveyou lovely loveyou sunshine princess
  football baseball basketball hockey soccer dragon monkey tiger shadow superman batman starwars trustno michael jennifer jordan
  charlie daniel thomas jessica michelle ashley nicole hannah summer winter spring autumn monday friday january february december
  whatever freedom nothing hello hellohello goodmorning mustang corvette ferrari mercedes porsche diamond cookie chocolate banana
  orange flower purple pepper ginger butterfly rainbow computer1 matrix killer hunter ranger access access14 please open opensesame
  aquarium aquariums aquarist aquatics curator technician viewer water waterwater homewater seawater saltwater freshwater ocean
  oceans marine shark sharks dolphin dolphins turtle penguin octopus jellyfish seahorse stingray clownfish goldfish fishfish
  coralreef reef reeftank fishtank tanktank salinity temperature chlorine oxygen pumproom lifesupport keeper zookeeper`
    .split(/\s+/)
    .filter((word) => word !== ""),
);

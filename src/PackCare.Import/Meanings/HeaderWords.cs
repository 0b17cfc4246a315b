using System.Globalization;
using System.Text;
using System.Text.RegularExpressions;

namespace PackCare.Import.Meanings;

/// <summary>Reads headers by general words of several languages and by unit marks.</summary>
internal static partial class HeaderWords
{
    [Flags]
    private enum Sense
    {
        None = 0,
        Elapsed = 1,
        Clock = 1 << 1,
        Date = 1 << 2,
        Timestamp = 1 << 3,
        Current = 1 << 4,
        Voltage = 1 << 5,
        Cell = 1 << 6,
        Pack = 1 << 7,
        Charge = 1 << 8,
        Energy = 1 << 9,
        Power = 1 << 10,
        Temperature = 1 << 11,
        Resistance = 1 << 12,
        Mode = 1 << 13,
        Label = 1 << 14,
        Session = 1 << 15,
        Derived = 1 << 16,
        In = 1 << 17,
        Out = 1 << 18,
        Index = 1 << 19,
        Foreign = 1 << 20,
        Full = 1 << 21,
        Balance = 1 << 22,
    }

    // Words that count only when they stand alone; longer words are found within compounds below.
    private static readonly Dictionary<string, Sense> Exact = new(StringComparer.Ordinal)
    {
        ["t"] = Sense.Elapsed, ["time"] = Sense.Elapsed, ["temps"] = Sense.Elapsed, ["tempo"] = Sense.Elapsed, ["tid"] = Sense.Elapsed, ["cas"] = Sense.Elapsed, ["czas"] = Sense.Elapsed, ["ido"] = Sense.Elapsed, ["sure"] = Sense.Elapsed, ["aika"] = Sense.Elapsed, ["tiempo"] = Sense.Elapsed, ["tijd"] = Sense.Elapsed, ["zaman"] = Sense.Elapsed, ["время"] = Sense.Elapsed, ["时间"] = Sense.Elapsed, ["時間"] = Sense.Elapsed, ["timp"] = Sense.Elapsed,
        ["doba"] = Sense.Elapsed, ["trvani"] = Sense.Elapsed, ["varighed"] = Sense.Elapsed, ["varaktighet"] = Sense.Elapsed, ["kesto"] = Sense.Elapsed, ["uplynulo"] = Sense.Elapsed, ["sec"] = Sense.Elapsed, ["secs"] = Sense.Elapsed, ["duree"] = Sense.Elapsed, ["duur"] = Sense.Elapsed, ["clock"] = Sense.Clock, ["heure"] = Sense.Clock, ["hora"] = Sense.Clock, ["ora"] = Sense.Clock, ["godzina"] = Sense.Clock, ["klocka"] = Sense.Clock, ["kello"] = Sense.Clock,
        ["date"] = Sense.Date, ["datum"] = Sense.Date, ["fecha"] = Sense.Date, ["data"] = Sense.Date, ["dato"] = Sense.Date, ["дата"] = Sense.Date, ["日期"] = Sense.Date, ["日付"] = Sense.Date, ["day"] = Sense.Date, ["tag"] = Sense.Date, ["pvm"] = Sense.Date,
        ["utc"] = Sense.Timestamp, ["ts"] = Sense.Timestamp, ["epoch"] = Sense.Timestamp, ["unix"] = Sense.Timestamp,
        ["i"] = Sense.Current, ["amp"] = Sense.Current, ["amps"] = Sense.Current, ["ampere"] = Sense.Current, ["amperes"] = Sense.Current, ["prad"] = Sense.Current, ["proud"] = Sense.Current, ["strom"] = Sense.Current, ["stroom"] = Sense.Current, ["virta"] = Sense.Current, ["aram"] = Sense.Current, ["akim"] = Sense.Current, ["ток"] = Sense.Current, ["curr"] = Sense.Current, ["cur"] = Sense.Current, ["curent"] = Sense.Current, ["ibat"] = Sense.Current, ["ibatt"] = Sense.Current, ["ipack"] = Sense.Current, ["iges"] = Sense.Current, ["itot"] = Sense.Current, ["itotal"] = Sense.Current,  ["courant"] = Sense.Current, ["电流"] = Sense.Current, ["電流"] = Sense.Current,
        ["u"] = Sense.Voltage, ["v"] = Sense.Voltage, ["mv"] = Sense.Voltage, ["volt"] = Sense.Voltage, ["volts"] = Sense.Voltage, ["voltage"] = Sense.Voltage, ["电压"] = Sense.Voltage, ["電圧"] = Sense.Voltage, ["ubat"] = Sense.Voltage | Sense.Pack, ["vbat"] = Sense.Voltage | Sense.Pack, ["vbatt"] = Sense.Voltage | Sense.Pack, ["vpack"] = Sense.Voltage | Sense.Pack, ["upack"] = Sense.Voltage | Sense.Pack, ["vtot"] = Sense.Voltage | Sense.Pack, ["utot"] = Sense.Voltage | Sense.Pack, ["uges"] = Sense.Voltage | Sense.Pack, ["vtotal"] = Sense.Voltage | Sense.Pack,
        ["cell"] = Sense.Cell, ["celi"] = Sense.Cell, ["celu"] = Sense.Cell, ["cellule"] = Sense.Cell, ["cells"] = Sense.Cell, ["cel"] = Sense.Cell, ["celda"] = Sense.Cell, ["cella"] = Sense.Cell, ["celle"] = Sense.Cell, ["cela"] = Sense.Cell, ["cele"] = Sense.Cell, ["celula"] = Sense.Cell, ["kenno"] = Sense.Cell, ["hucre"] = Sense.Cell, ["ogniwo"] = Sense.Cell, ["clanek"] = Sense.Cell, ["element"] = Sense.Cell, ["elem"] = Sense.Cell, ["vcell"] = Sense.Voltage | Sense.Cell, ["ucell"] = Sense.Voltage | Sense.Cell, ["uzelle"] = Sense.Voltage | Sense.Cell, ["ячейка"] = Sense.Cell, ["элемент"] = Sense.Cell, ["банка"] = Sense.Cell, ["セル"] = Sense.Cell, ["电芯"] = Sense.Cell, ["单体"] = Sense.Cell, ["cellv"] = Sense.Voltage | Sense.Cell, ["vc"] = Sense.Voltage | Sense.Cell, ["uc"] = Sense.Voltage | Sense.Cell, ["uz"] = Sense.Voltage | Sense.Cell, ["vz"] = Sense.Voltage | Sense.Cell,
        ["pack"] = Sense.Pack, ["bat"] = Sense.Pack, ["batt"] = Sense.Pack, ["accu"] = Sense.Pack, ["pak"] = Sense.Pack, ["sada"] = Sense.Pack, ["pakket"] = Sense.Pack, ["pakiet"] = Sense.Pack, ["pacco"] = Sense.Pack, ["pacchetto"] = Sense.Pack, ["paquete"] = Sense.Pack, ["pacote"] = Sense.Pack, ["paket"] = Sense.Pack, ["paquet"] = Sense.Pack, ["pakke"] = Sense.Pack, ["total"] = Sense.Pack | Sense.Full, ["main"] = Sense.Pack | Sense.Full, ["sum"] = Sense.Pack | Sense.Full, ["summe"] = Sense.Pack | Sense.Full, ["gesamt"] = Sense.Pack | Sense.Full, ["bus"] = Sense.Pack, ["totale"] = Sense.Pack | Sense.Full, ["totaal"] = Sense.Pack | Sense.Full, ["celkem"] = Sense.Pack | Sense.Full, ["razem"] = Sense.Pack | Sense.Full, ["suma"] = Sense.Pack | Sense.Full, ["somme"] = Sense.Pack | Sense.Full, ["somma"] = Sense.Pack | Sense.Full, ["totalt"] = Sense.Pack | Sense.Full, ["toplam"] = Sense.Pack | Sense.Full, ["итого"] = Sense.Pack | Sense.Full, ["общее"] = Sense.Pack | Sense.Full,
        ["q"] = Sense.Charge, ["ah"] = Sense.Charge, ["mah"] = Sense.Charge, ["cap"] = Sense.Charge, ["kap"] = Sense.Charge, ["charge"] = Sense.Charge, ["carga"] = Sense.Charge, ["carica"] = Sense.Charge, ["lading"] = Sense.Charge, ["ladung"] = Sense.Charge, ["varaus"] = Sense.Charge, ["заряд"] = Sense.Charge, ["容量"] = Sense.Charge, ["naboj"] = Sense.Charge, ["ladunek"] = Sense.Charge, ["laddning"] = Sense.Charge, ["ladning"] = Sense.Charge, ["toltes"] = Sense.Charge, ["φορτιο"] = Sense.Charge, ["заряду"] = Sense.Charge,
        ["e"] = Sense.Energy, ["wh"] = Sense.Energy, ["mwh"] = Sense.Energy, ["energia"] = Sense.Energy, ["энергия"] = Sense.Energy,
        ["guc"] = Sense.Power, ["p"] = Sense.Power, ["power"] = Sense.Power, ["moc"] = Sense.Power, ["vykon"] = Sense.Power, ["effekt"] = Sense.Power, ["teho"] = Sense.Power, ["watt"] = Sense.Power, ["watts"] = Sense.Power, ["мощность"] = Sense.Power, ["功率"] = Sense.Power, ["puissance"] = Sense.Power, ["potencia"] = Sense.Power, ["potenza"] = Sense.Power,
        ["temp"] = Sense.Temperature, ["tmp"] = Sense.Temperature, ["ntc"] = Sense.Temperature, ["thermistor"] = Sense.Temperature, ["teplota"] = Sense.Temperature, ["温度"] = Sense.Temperature, ["sicaklik"] = Sense.Temperature, ["lampotila"] = Sense.Temperature, ["homerseklet"] = Sense.Temperature, ["degc"] = Sense.Temperature,
        ["r"] = Sense.Resistance, ["res"] = Sense.Resistance, ["ri"] = Sense.Resistance, ["ir"] = Sense.Resistance, ["esr"] = Sense.Resistance, ["rint"] = Sense.Resistance, ["内阻"] = Sense.Resistance, ["odpor"] = Sense.Resistance, ["opor"] = Sense.Resistance, ["dcir"] = Sense.Resistance,
        ["tryb"] = Sense.Mode, ["rezim"] = Sense.Mode, ["mod"] = Sense.Mode, ["adim"] = Sense.Mode, ["vaihe"] = Sense.Mode, ["mode"] = Sense.Mode, ["modus"] = Sense.Mode, ["modo"] = Sense.Mode, ["state"] = Sense.Mode, ["status"] = Sense.Mode, ["etat"] = Sense.Mode, ["estado"] = Sense.Mode, ["stato"] = Sense.Mode, ["stan"] = Sense.Mode, ["stav"] = Sense.Mode, ["phase"] = Sense.Mode, ["fase"] = Sense.Mode, ["step"] = Sense.Mode, ["action"] = Sense.Mode, ["режим"] = Sense.Mode, ["direction"] = Sense.Mode, ["richtung"] = Sense.Mode, ["operation"] = Sense.Mode, ["betrieb"] = Sense.Mode, ["tila"] = Sense.Mode, ["状态"] = Sense.Mode, ["lage"] = Sense.Mode,
        ["name"] = Sense.Label, ["label"] = Sense.Label, ["id"] = Sense.Label, ["nom"] = Sense.Label, ["nombre"] = Sense.Label, ["nome"] = Sense.Label, ["serial"] = Sense.Label, ["bezeichnung"] = Sense.Label,
        ["session"] = Sense.Session, ["seance"] = Sense.Session, ["sesion"] = Sense.Session, ["sessione"] = Sense.Session, ["sessie"] = Sense.Session, ["sesja"] = Sense.Session, ["sessio"] = Sense.Session, ["oturum"] = Sense.Session, ["relace"] = Sense.Session, ["sessao"] = Sense.Session, ["сессия"] = Sense.Session, ["lauf"] = Sense.Session, ["cycle"] = Sense.Session, ["run"] = Sense.Session, ["zyklus"] = Sense.Session, ["ciclo"] = Sense.Session, ["cyklus"] = Sense.Session, ["sitzung"] = Sense.Session, ["vorgang"] = Sense.Session, ["cykl"] = Sense.Session, ["цикл"] = Sense.Session, ["循环"] = Sense.Session,
        ["мин"] = Sense.Derived, ["макс"] = Sense.Derived, ["maks"] = Sense.Derived, ["cut"] = Sense.Derived, ["min"] = Sense.Derived, ["max"] = Sense.Derived, ["mean"] = Sense.Derived, ["avg"] = Sense.Derived, ["average"] = Sense.Derived, ["delta"] = Sense.Derived, ["diff"] = Sense.Derived, ["dv"] = Sense.Derived, ["du"] = Sense.Derived, ["dt"] = Sense.Derived, ["set"] = Sense.Derived, ["soll"] = Sense.Derived, ["target"] = Sense.Derived, ["limit"] = Sense.Derived, ["peak"] = Sense.Derived, ["std"] = Sense.Derived, ["ref"] = Sense.Derived, ["rated"] = Sense.Derived, ["nominal"] = Sense.Derived, ["nom."] = Sense.Derived, ["remaining"] = Sense.Derived, ["rest"] = Sense.None, ["imbalance"] = Sense.Derived, ["median"] = Sense.Derived, ["mittel"] = Sense.Derived, ["mittelwert"] = Sense.Derived, ["moyenne"] = Sense.Derived, ["media"] = Sense.Derived, ["soc"] = Sense.Derived, ["soh"] = Sense.Derived, ["duty"] = Sense.Derived, ["min."] = Sense.Derived, ["max."] = Sense.Derived, ["lowest"] = Sense.Derived, ["highest"] = Sense.Derived, ["ext"] = Sense.None, ["int"] = Sense.None,
        ["in"] = Sense.In, ["out"] = Sense.Out, ["ein"] = Sense.In, ["aus"] = Sense.Out, ["uit"] = Sense.Out, ["ut"] = Sense.Out, ["ind"] = Sense.In, ["ud"] = Sense.Out, ["entree"] = Sense.In, ["sortie"] = Sense.Out, ["entrada"] = Sense.In, ["salida"] = Sense.Out, ["saida"] = Sense.Out, ["entrata"] = Sense.In, ["uscita"] = Sense.Out, ["giris"] = Sense.In, ["cikis"] = Sense.Out, ["вход"] = Sense.In, ["выход"] = Sense.Out, ["supply"] = Sense.Foreign, ["rail"] = Sense.Foreign, ["charger"] = Sense.Foreign, ["phone"] = Sense.Foreign, ["filtered"] = Sense.Derived, ["est"] = Sense.Derived, ["ocv"] = Sense.Derived, ["fan"] = Sense.Foreign, ["lufter"] = Sense.Foreign, ["ventilator"] = Sense.Foreign, ["ventilateur"] = Sense.Foreign, ["ventilatore"] = Sense.Foreign, ["ventola"] = Sense.Foreign, ["ventilador"] = Sense.Foreign, ["wentylator"] = Sense.Foreign, ["vetrak"] = Sense.Foreign, ["flakt"] = Sense.Foreign, ["blaser"] = Sense.Foreign, ["blower"] = Sense.Foreign, ["zasilanie"] = Sense.Foreign, ["napajeni"] = Sense.Foreign, ["napajani"] = Sense.Foreign, ["netz"] = Sense.Foreign,  ["leakage"] = Sense.Foreign, ["logger"] = Sense.Foreign, ["input"] = Sense.Foreign, ["mains"] = Sense.Foreign, ["psu"] = Sense.Foreign, ["vin"] = Sense.Foreign, ["uin"] = Sense.Foreign,
        ["radek"] = Sense.Index, ["linha"] = Sense.Index, ["fila"] = Sense.Index, ["riga"] = Sense.Index, ["rij"] = Sense.Index, ["regel"] = Sense.Index, ["wiersz"] = Sense.Index, ["ligne"] = Sense.Index, ["linea"] = Sense.Index, ["satir"] = Sense.Index, ["rivi"] = Sense.Index, ["rad"] = Sense.Index, ["line"] = Sense.Index, ["rekord"] = Sense.Index, ["reading"] = Sense.Index, ["muestra"] = Sense.Index, ["amostra"] = Sense.Index, ["campione"] = Sense.Index, ["monster"] = Sense.Index, ["vzorek"] = Sense.Index, ["probka"] = Sense.Index, ["echantillon"] = Sense.Index, ["строка"] = Sense.Index, ["номер"] = Sense.Index, ["lp"] = Sense.Index, ["lat"] = Sense.Index, ["lon"] = Sense.Index, ["lng"] = Sense.Index, ["latitude"] = Sense.Index, ["longitude"] = Sense.Index, ["rpm"] = Sense.Index, ["pwm"] = Sense.Index, ["rssi"] = Sense.Index, ["flags"] = Sense.Index, ["error"] = Sense.Index, ["crc"] = Sense.Index, ["index"] = Sense.Index, ["idx"] = Sense.Index, ["nr"] = Sense.Index, ["no"] = Sense.Index, ["n"] = Sense.Index, ["row"] = Sense.Index, ["sample"] = Sense.Index, ["record"] = Sense.Index, ["seq"] = Sense.Index, ["#"] = Sense.Index, ["zeile"] = Sense.Index, ["lfd"] = Sense.Index, ["count"] = Sense.Index, ["point"] = Sense.Index, ["num"] = Sense.Index,
        ["ibal"] = Sense.Current | Sense.Balance, ["iset"] = Sense.Derived, ["uset"] = Sense.Derived, ["vset"] = Sense.Derived, ["isoll"] = Sense.Derived, ["usoll"] = Sense.Derived, ["ilim"] = Sense.Derived, ["ulim"] = Sense.Derived, ["vlim"] = Sense.Derived,
        ["umin"] = Sense.Derived, ["vmin"] = Sense.Derived, ["cmin"] = Sense.Derived, ["umax"] = Sense.Derived, ["vmax"] = Sense.Derived, ["cmax"] = Sense.Derived, ["imax"] = Sense.Derived, ["uavg"] = Sense.Derived, ["vavg"] = Sense.Derived, ["cavg"] = Sense.Derived, ["umean"] = Sense.Derived, ["vmean"] = Sense.Derived,
        ["cellmin"] = Sense.Cell | Sense.Derived, ["cellmax"] = Sense.Cell | Sense.Derived, ["cellavg"] = Sense.Cell | Sense.Derived, ["avgcell"] = Sense.Cell | Sense.Derived, ["mincell"] = Sense.Cell | Sense.Derived, ["maxcell"] = Sense.Cell | Sense.Derived, ["avgvolt"] = Sense.Derived, ["prumer"] = Sense.Derived, ["schnitt"] = Sense.Derived, ["snitt"] = Sense.Derived,
        ["ichg"] = Sense.Current | Sense.In, ["ich"] = Sense.Current | Sense.In, ["icharge"] = Sense.Current | Sense.In, ["iin"] = Sense.Current | Sense.In, ["idis"] = Sense.Current | Sense.Out, ["idch"] = Sense.Current | Sense.Out, ["idsg"] = Sense.Current | Sense.Out, ["idischarge"] = Sense.Current | Sense.Out, ["iload"] = Sense.Current | Sense.Out, ["iout"] = Sense.Current | Sense.Out,
        ["pwr"] = Sense.Power, ["pow"] = Sense.Power, ["dis"] = Sense.Out | Sense.Charge, ["dchg"] = Sense.Out | Sense.Charge, ["dsg"] = Sense.Out | Sense.Charge, ["chg"] = Sense.In | Sense.Charge,
        ["c"] = Sense.Cell, ["z"] = Sense.Cell, ["s"] = Sense.Cell,
    };

    private static readonly (string Stem, Sense Sense)[] Stems =
    [
        ("timestamp", Sense.Timestamp), ("datetime", Sense.Timestamp), ("zeitstempel", Sense.Timestamp), ("horodat", Sense.Timestamp), ("tijdstempel", Sense.Timestamp), ("tijdstip", Sense.Timestamp),
        ("uhrzeit", Sense.Clock), ("tageszeit", Sense.Clock), ("timeofday", Sense.Clock), ("clocktime", Sense.Clock),
        ("elapsed", Sense.Elapsed), ("runtime", Sense.Elapsed), ("laufzeit", Sense.Elapsed), ("dauer", Sense.Elapsed), ("durat", Sense.Elapsed), ("duraci", Sense.Elapsed), ("duraca", Sense.Elapsed), ("looptijd", Sense.Elapsed), ("verstreken", Sense.Elapsed), ("uplyn", Sense.Elapsed), ("second", Sense.Elapsed), ("sekund", Sense.Elapsed), ("seconde", Sense.Elapsed), ("segundo", Sense.Elapsed), ("minut", Sense.Elapsed), ("millis", Sense.Elapsed), ("zeit", Sense.Elapsed), ("trwania", Sense.Elapsed), ("длительн", Sense.Elapsed), ("продолжит", Sense.Elapsed), ("прошло", Sense.Elapsed), ("тривал", Sense.Elapsed), ("ecoul", Sense.Elapsed), ("verstrichen", Sense.Elapsed), ("stunden", Sense.Elapsed), ("hours", Sense.Elapsed),
        ("widerstand", Sense.Resistance), ("resist", Sense.Resistance), ("rezyst", Sense.Resistance), ("weerstand", Sense.Resistance), ("motstand", Sense.Resistance), ("сопротив", Sense.Resistance), ("impedan", Sense.Resistance),
        ("temperat", Sense.Temperature), ("температур", Sense.Temperature), ("lampotil", Sense.Temperature),
        ("current", Sense.Current), ("virta", Sense.Current), ("strom", Sense.Current), ("courant", Sense.Current), ("corrent", Sense.Current), ("corrient", Sense.Current), ("stroom", Sense.Current), ("natez", Sense.Current), ("intensid", Sense.Current), ("intensit", Sense.Current),
        ("voltage", Sense.Voltage), ("spannung", Sense.Voltage), ("tension", Sense.Voltage), ("tensione", Sense.Voltage), ("tensao", Sense.Voltage), ("voltaj", Sense.Voltage), ("spanning", Sense.Voltage), ("napiec", Sense.Voltage), ("napeti", Sense.Voltage), ("spaenning", Sense.Voltage), ("spaending", Sense.Voltage), ("spenning", Sense.Voltage), ("spanding", Sense.Voltage), ("spaending", Sense.Voltage), ("jannit", Sense.Voltage), ("feszults", Sense.Voltage), ("gerilim", Sense.Voltage), ("напряж", Sense.Voltage), ("spænding", Sense.Voltage),
        ("leistung", Sense.Power), ("vermogen", Sense.Power), ("potenc", Sense.Power), ("power", Sense.Power),
        ("energ", Sense.Energy), ("énerg", Sense.Energy), ("энерг", Sense.Energy), ("arbeit", Sense.Energy),
        ("entlad", Sense.Out | Sense.Charge), ("discharg", Sense.Out | Sense.Charge), ("decharg", Sense.Out | Sense.Charge), ("descarg", Sense.Out | Sense.Charge), ("scaric", Sense.Out | Sense.Charge), ("ontlad", Sense.Out | Sense.Charge), ("rozlad", Sense.Out | Sense.Charge), ("vybij", Sense.Out | Sense.Charge), ("urladdn", Sense.Out | Sense.Charge), ("разряд", Sense.Out | Sense.Charge), ("drawn", Sense.Out | Sense.Charge), ("entnomm", Sense.Out | Sense.Charge), ("entnahme", Sense.Out | Sense.Charge),
        ("charged", Sense.In | Sense.Charge), ("eingelad", Sense.In | Sense.Charge), ("geladen", Sense.In | Sense.Charge), ("charging", Sense.In | Sense.Charge),
        ("immess", Sense.In), ("estratt", Sense.Out), ("erogat", Sense.Out), ("wprowadz", Sense.In), ("oddan", Sense.Out), ("pobran", Sense.Out), ("purett", Sense.Out | Sense.Charge), ("laddat", Sense.In | Sense.Charge), ("carregad", Sense.In | Sense.Charge), ("ladattu", Sense.In | Sense.Charge), ("urladdat", Sense.Out | Sense.Charge), ("descarreg", Sense.Out | Sense.Charge), ("desarj", Sense.Out | Sense.Charge), ("purku", Sense.Out | Sense.Charge), ("lataus", Sense.In | Sense.Charge), ("purkau", Sense.Out | Sense.Charge), ("kisut", Sense.Out | Sense.Charge), ("utladd", Sense.Out | Sense.Charge), ("aflad", Sense.Out | Sense.Charge), ("sarj", Sense.Charge), ("yuku", Sense.Charge), ("toltes", Sense.Charge),
        ("capacit", Sense.Charge), ("kapazit", Sense.Charge), ("capacid", Sense.Charge), ("capaciteit", Sense.Charge), ("pojemn", Sense.Charge), ("kapacit", Sense.Charge), ("kapasit", Sense.Charge), ("емкост", Sense.Charge), ("ёмкост", Sense.Charge), ("ladung", Sense.Charge), ("lade", Sense.In | Sense.Charge), ("charge", Sense.Charge), ("amphour", Sense.Charge), ("coulom", Sense.Charge),
        ("zelle", Sense.Cell), ("zell", Sense.Cell), ("cell", Sense.Cell), ("celd", Sense.Cell), ("ogniw", Sense.Cell), ("clank", Sense.Cell), ("element", Sense.Cell), ("ячейк", Sense.Cell), ("celul", Sense.Cell), ("kenn", Sense.Cell),
        ("battery", Sense.Pack), ("batter", Sense.Pack), ("bateri", Sense.Pack), ("akku", Sense.Pack), ("akum", Sense.Pack), ("батаре", Sense.Pack), ("аккум", Sense.Pack), ("电池", Sense.Pack), ("pack", Sense.Pack), ("gesamt", Sense.Pack | Sense.Full), ("total", Sense.Pack | Sense.Full),
        ("zustand", Sense.Mode), ("betriebsart", Sense.Mode), ("toestand", Sense.Mode), ("durum", Sense.Mode), ("allapot", Sense.Mode), ("uzemmod", Sense.Mode), ("режим", Sense.Mode),
        ("keskiarv", Sense.Derived), ("stredn", Sense.Derived), ("installd", Sense.Derived), ("fijad", Sense.Derived), ("doelsp", Sense.Derived), ("malspan", Sense.Derived), ("tavoite", Sense.Derived), ("sollstr", Sense.Derived), ("sollsp", Sense.Derived), ("consign", Sense.Derived), ("ajustad", Sense.Derived), ("impostat", Sense.Derived), ("ingestel", Sense.Derived), ("borvarde", Sense.Derived), ("zadan", Sense.Derived), ("nastaven", Sense.Derived), ("asetus", Sense.Derived), ("beallit", Sense.Derived), ("hedef", Sense.Derived), ("ayar", Sense.Derived), ("задан", Sense.Derived), ("уставк", Sense.Derived), ("objetivo", Sense.Derived), ("obiettivo", Sense.Derived), ("vorgabe", Sense.Derived), ("grenz", Sense.Derived), ("granic", Sense.Derived), ("gransv", Sense.Derived), ("niva", Sense.Derived), ("fullstand", Sense.Derived), ("znamion", Sense.Derived), ("nomin", Sense.Derived), ("anma", Sense.Derived),
        ("balanc", Sense.Balance), ("balans", Sense.Balance), ("ausgleich", Sense.Balance), ("equilibr", Sense.Balance), ("bilanci", Sense.Balance), ("dengele", Sense.Balance), ("vyvaz", Sense.Balance), ("баланс", Sense.Balance),
        ("enerji", Sense.Energy), ("direnc", Sense.Resistance), ("ellenall", Sense.Resistance), ("resistans", Sense.Resistance), ("teljesit", Sense.Power), ("humid", Sense.Index), ("pressure", Sense.Index), ("altitude", Sense.Index), ("speed", Sense.Index), ("throttle", Sense.Index),
        ("differen", Sense.Derived), ("diferen", Sense.Derived), ("roznic", Sense.Derived), ("rozdil", Sense.Derived), ("verschil", Sense.Derived), ("skillnad", Sense.Derived), ("forskel", Sense.Derived), ("forskjel", Sense.Derived), ("kulonbs", Sense.Derived), ("разниц", Sense.Derived),
        ("definid", Sense.Derived), ("consign", Sense.Derived), ("impostat", Sense.Derived), ("nastav", Sense.Derived), ("zadan", Sense.Derived), ("ustawion", Sense.Derived), ("beallit", Sense.Derived), ("задан", Sense.Derived), ("уставк", Sense.Derived),
        ("celkov", Sense.Pack | Sense.Full), ("calkowit", Sense.Pack | Sense.Full), ("abweich", Sense.Derived), ("deviat", Sense.Derived), ("spread", Sense.Derived), ("durchschnitt", Sense.Derived), ("setpoint", Sense.Derived), ("cutoff", Sense.Derived), ("sollwert", Sense.Derived), ("minim", Sense.Derived), ("maxim", Sense.Derived), ("limit", Sense.Derived), ("nenn", Sense.Derived),
        ("hochst", Sense.Derived), ("hoechst", Sense.Derived), ("niedrigst", Sense.Derived), ("tiefst", Sense.Derived), ("nejvyss", Sense.Derived), ("nejniz", Sense.Derived), ("najwyz", Sense.Derived), ("najniz", Sense.Derived), ("rozpty", Sense.Derived), ("streuung", Sense.Derived), ("spreiz", Sense.Derived), ("grosst", Sense.Derived), ("kleinst", Sense.Derived), ("mittler", Sense.Derived), ("hoogst", Sense.Derived), ("laagst", Sense.Derived), ("gemiddeld", Sense.Derived), ("moyen", Sense.Derived), ("massim", Sense.Derived), ("schwachst", Sense.Derived), ("weakest", Sense.Derived), ("strongest", Sense.Derived), ("zwakst", Sense.Derived), ("hogst", Sense.Derived), ("lagst", Sense.Derived), ("medel", Sense.Derived), ("basse", Sense.Derived), ("bassa", Sense.Derived), ("faible", Sense.Derived), ("debole", Sense.Derived), ("svagast", Sense.Derived), ("средн", Sense.Derived), ("наиб", Sense.Derived), ("наим", Sense.Derived), ("ladeschluss", Sense.Derived), ("zielsp", Sense.Derived), ("coupure", Sense.Derived), ("afschakel", Sense.Derived), ("corte", Sense.Derived),
        ("eingang", Sense.Foreign), ("ingang", Sense.Foreign), ("voeding", Sense.Foreign), ("speise", Sense.Foreign), ("питани", Sense.Foreign), ("solar", Sense.Foreign), ("starter", Sense.Foreign), ("receiver", Sense.Foreign), ("empfanger", Sense.Foreign), ("autobatter", Sense.Foreign), ("stutzbatter", Sense.Foreign), ("bleed", Sense.Balance), ("ontlaad", Sense.Out | Sense.Charge), ("laadstr", Sense.In | Sense.Charge), ("versorg", Sense.Foreign), ("netzteil", Sense.Foreign), ("supply", Sense.Foreign), ("aliment", Sense.Foreign),
        ("number", Sense.Index), ("nummer", Sense.Index),
    ];

    /// <summary>Reads one header, with the field of the unit row below it where there is one.</summary>
    internal static HeaderHint Read(string? header, string? unitField)
    {
        Unit unit = unitField is null ? Unit.None : UnitMarks.Parse(unitField);
        if (string.IsNullOrWhiteSpace(header))
        {
            return unit == Unit.None ? HeaderHint.Nothing : new HeaderHint(UnitMarks.QuantityOf(unit), unit, false, false, null, false, false, false, true);
        }

        string text = header.Trim();
        Unit stated = TakeUnit(ref text);
        if (text.Length == 0 && unit != Unit.None && UnitMarks.QuantityOf(unit) != UnitMarks.QuantityOf(stated))
        {
            // "Min" over "V" is no minute.
            (text, stated) = (header.Trim(), Unit.None);
        }

        text = PackThenCell().Replace(text, "cell $1");
        List<string> words = Words(text, out int? number);
        JoinHours(words);
        if (stated == Unit.None && words.Count >= 1)
        {
            stated = UnitOfLastWord(words, number);
        }

        if (unit == Unit.None)
        {
            unit = stated;
        }

        if (number is null && words.Exists(word => word.Length > 2 && SenseOf(word).HasFlag(Sense.Cell)))
        {
            number = Ordinals.TakeFrom(words);
        }

        // "C-rate [C]" is a current in parts of the capacity, and no temperature.
        if (unit == Unit.Celsius && words.Exists(word => Rates.Contains(word)) && header.AsSpan().IndexOfAny('°', 'º', '℃') < 0)
        {
            return new HeaderHint(Quantity.Other, Unit.None, false, false, null, false, false, false, false);
        }

        // "End voltage per cell" is set, or a mean.
        bool isEach = number is null && Enumerable.Range(1, Math.Max(0, words.Count - 1)).Any(i => words[i - 1] is "per" or "pro" or "je" or "par" or "por" && words[i].Length > 2 && SenseOf(words[i]).HasFlag(Sense.Cell));

        // "Zelle III". A lone V is rather a voltage, where no other unit is stated.
        if (number is null && !isEach && words.Exists(word => word.Length > 2 && SenseOf(word) == Sense.Cell) && words.Find(word => Array.IndexOf(Roman, word) is var at and >= 0 && (word.Length > 1 || word is "i" || (unit != Unit.None && at is 4 or 9))) is { } roman)
        {
            number = Array.IndexOf(Roman, roman) + 1;
            words.Remove(roman);
        }

        // "Cell E" is the fifth, and no energy.
        if (number is null && words.Count(word => word.Length == 1) == 1 && words.Exists(word => word.Length > 2 && SenseOf(word) == Sense.Cell))
        {
            words.RemoveAll(word => word is "e" or "i" or "p" or "q");
        }

        // "c1" is a cell; "c" alone is anything.
        Sense sense = words.Aggregate(Sense.None, (all, word) => all | (word is "c" or "z" or "s" && !StandsBeforeNumber(text, word[0]) ? Sense.None : SenseOf(word)));
        if (number is not null && words is ["cv"])
        {
            sense |= Sense.Voltage | Sense.Cell;
        }

        if (words is ["time", "of", "day", ..])
        {
            sense = (sense & ~(Sense.Date | Sense.Elapsed)) | Sense.Clock;
        }

        if (words.Contains("t") && UnitMarks.QuantityOf(unit) == Quantity.Temperature && (sense & (Sense.Clock | Sense.Date | Sense.Timestamp)) == 0)
        {
            sense = (sense & ~Sense.Elapsed) | Sense.Temperature;
        }

        if (isEach && words.Count > 3)
        {
            sense |= Sense.Derived;
        }

        // "Current (charge negative)" holds both directions.
        if (sense.HasFlag(Sense.Current) && Enumerable.Range(1, Math.Max(0, words.Count - 1)).Any(i => (SenseOf(words[i - 1]) & (Sense.In | Sense.Out | Sense.Charge)) != 0 && (words[i].StartsWith("negativ", StringComparison.Ordinal) || words[i].StartsWith("positiv", StringComparison.Ordinal))))
        {
            sense &= ~(Sense.In | Sense.Out | Sense.Charge);
        }

        if (Rail().IsMatch(text))
        {
            sense |= Sense.Foreign;
        }

        if (sense is Sense.None or Sense.Cell && unit == Unit.None && IsMeasuredOtherwise(header, words, number))
        {
            sense = Sense.Index;
        }

        if (unit is Unit.AmpereHour or Unit.MilliampereHour or Unit.WattHour || words is ["i"])
        {
            sense |= text.TrimEnd() is [.., '+'] || words is ["c"] ? Sense.In : text.TrimEnd() is [.., '-' or '\u2212'] || words is ["d"] ? Sense.Out : Sense.None;
        }

        bool bare = words.Count == 0 || words.All(word => word.Length <= 2);
        return Resolve(sense, unit, number, bare, words);
    }

    /// <summary>The place in the alphabet of the one letter that stands alone in a header beside its unit; 0 without one.</summary>
    internal static int LetterOf(string? header)
    {
        string text = header?.Trim() ?? "";
        TakeUnit(ref text);
        List<string> letters = [.. Words(text, out int? number).Where(word => word.Length == 1)];
        return number is null && letters is [[>= 'a' and <= 'z' and var letter]] ? letter - 'a' + 1 : 0;
    }

    /// <summary>Whether a header says a voltage, of the pack if of anything, and nothing else that a word tells.</summary>
    internal static bool IsPlainVoltage(string? header)
    {
        string text = header?.Trim() ?? "";
        TakeUnit(ref text);
        return Words(text, out _).TrueForAll(word => word.Length < 3 || (SenseOf(word) & (Sense.Voltage | Sense.Pack)) != 0);
    }

    // "Pack1 C2".
    [GeneratedRegex(@"^\s*(?:pack|batt?(?:ery)?|akku|accu)[ ._-]*\d*[ ._-]+c(?:ell)?[ ._-]*(\d{1,2})(?!\d)", RegexOptions.CultureInvariant | RegexOptions.IgnoreCase)]
    private static partial Regex PackThenCell();

    // "3V3", "5V0": what a supply is to give.
    [GeneratedRegex(@"(?<![A-Za-z0-9])\d{1,2}[vV]\d(?![0-9])", RegexOptions.CultureInvariant)]
    private static partial Regex Rail();

    private static bool StandsBeforeNumber(string text, char letter)
    {
        for (int at = text.IndexOf(letter, StringComparison.OrdinalIgnoreCase); at >= 0; at = text.IndexOf(letter, at + 1))
        {
            int after = at + 1;
            while (after < text.Length && !char.IsLetterOrDigit(text[after]))
            {
                after++;
            }

            // "1S", "2S": the number may stand right before its letter as well.
            if (at > 0 && char.IsAsciiDigit(text[at - 1]) && (after == text.Length || !char.IsLetter(text[at + 1 == text.Length ? at : at + 1])))
            {
                return true;
            }

            if (after < text.Length && char.IsAsciiDigit(text[after]) && (at == 0 || !char.IsLetter(text[at - 1]) || char.IsUpper(text[at])))
            {
                return true;
            }
        }

        return false;
    }

    // Units of nothing that is logged at a pack, in brackets or as the last word; words that are known have their own say.
    private static bool IsMeasuredOtherwise(string header, List<string> words, int? number) =>
        words.Count > 1 && (ForeignUnits.Contains(words[^1]) || (number is not null && !words.Exists(word => word.Length > 2 && SenseOf(word) == Sense.Cell) && words[^1] is "s" or "sec" or "min" or "h") || header.TrimEnd() is [.., '%'] or [.., '%', ']' or ')']);

    // What a battery is in, and not which it is; "nr" and "id" say which.
    private static readonly string[] StateWords = ["level", "alarm", "flag", "status", "stand", "niveau", "nivel", "livello", "health", "warn", "error", "fault", "percent", "prozent", "soc", "soh", "full", "low"];

    private static readonly string[] Roman = ["i", "ii", "iii", "iv", "v", "vi", "vii", "viii", "ix", "x", "xi", "xii"];

    private static readonly HashSet<string> Rates = new(StringComparer.Ordinal) { "rate", "load", "taux", "belastung", "last", "tasa", "tasso", "belasting" };

    private static readonly HashSet<string> ForeignUnits = new(StringComparer.Ordinal) { "m", "km", "cm", "mm", "kg", "hpa", "mbar", "bar", "hz", "khz", "rpm", "psi", "lx", "db", "dbm", "kmh", "mph", "deg" };

    private static HeaderHint Resolve(Sense sense, Unit unit, int? number, bool bare, List<string> words)
    {
        bool cell = sense.HasFlag(Sense.Cell);
        // "Battery cell 3" is a cell of the battery.
        bool pack = sense.HasFlag(Sense.Pack) && !(cell && number is not null);
        Quantity byUnit = UnitMarks.QuantityOf(unit);
        Quantity byWord = Quantity.Unknown;
        if ((sense & (Sense.Timestamp | Sense.Date | Sense.Clock | Sense.Elapsed)) is var time and not Sense.None)
        {
            byWord = time.HasFlag(Sense.Timestamp) || (time.HasFlag(Sense.Date) && (time & (Sense.Clock | Sense.Elapsed)) != 0) ? Quantity.Timestamp
                : time.HasFlag(Sense.Date) ? Quantity.Date
                : time.HasFlag(Sense.Clock) ? Quantity.Clock : Quantity.Elapsed;
        }
        else if (sense.HasFlag(Sense.Temperature))
        {
            byWord = Quantity.Temperature;
        }
        else if (sense.HasFlag(Sense.Resistance))
        {
            byWord = Quantity.Resistance;
        }
        else if (sense.HasFlag(Sense.Current))
        {
            byWord = Quantity.Current;
        }
        else if (sense.HasFlag(Sense.Voltage))
        {
            byWord = Quantity.Voltage;
        }
        else if (sense.HasFlag(Sense.Power))
        {
            byWord = Quantity.Power;
        }
        else if (sense.HasFlag(Sense.Energy))
        {
            byWord = Quantity.Energy;
        }
        else if (sense.HasFlag(Sense.Mode))
        {
            byWord = Quantity.Mode;
        }
        else if (cell)
        {
            byWord = number is null && byUnit == Quantity.Unknown ? Quantity.CellNumber : byUnit == Quantity.Unknown ? Quantity.Voltage : byUnit;
        }
        else if (sense.HasFlag(Sense.Session))
        {
            byWord = Quantity.Session;
        }
        else if (sense.HasFlag(Sense.Charge))
        {
            byWord = Quantity.Charge;
        }
        else if (sense.HasFlag(Sense.Label) || (pack && !sense.HasFlag(Sense.Full)))
        {
            byWord = byUnit != Quantity.Unknown ? byUnit : words.Exists(word => Array.Exists(StateWords, state => word.Contains(state, StringComparison.Ordinal))) ? Quantity.Other : Quantity.PackLabel;
        }
        else if (pack && byUnit != Quantity.Unknown)
        {
            byWord = byUnit;
        }

        // What flows from cell to cell is not the pack's current; a voltage at the balance lead is a cell's all the same.
        bool balances = sense.HasFlag(Sense.Balance) && (byUnit is Quantity.Current or Quantity.Charge or Quantity.Power || byWord is Quantity.Current or Quantity.Power);
        bool derived = (sense & (Sense.Derived | Sense.Foreign)) != 0 || balances;
        Quantity quantity = byWord;
        if (byUnit != Quantity.Unknown)
        {
            bool agree = byWord == byUnit || byWord is Quantity.Unknown
                || (byUnit == Quantity.Elapsed && byWord is Quantity.Timestamp or Quantity.Clock or Quantity.Date)
                || (byWord == Quantity.Charge && byUnit is Quantity.Energy or Quantity.Current)
                || (byWord is Quantity.Mode or Quantity.Session or Quantity.PackLabel or Quantity.CellNumber);
            if (agree || bare)
            {
                quantity = byUnit == Quantity.Elapsed && byWord is Quantity.Timestamp or Quantity.Clock or Quantity.Date ? byWord : byUnit;
            }
            else
            {
                // "Charge current [V]": words and unit contradict each other, so neither is believed.
                quantity = Quantity.Unknown;
                unit = Unit.None;
            }
        }
        else if (byWord == Quantity.Unknown && sense.HasFlag(Sense.Index))
        {
            quantity = Quantity.Other;
        }

        if (derived && quantity is not (Quantity.Elapsed or Quantity.Timestamp or Quantity.Clock or Quantity.Date))
        {
            return new HeaderHint(quantity == Quantity.Unknown ? Quantity.Other : quantity, unit, cell, pack, number, false, false, true, false);
        }

        bool isIn = sense.HasFlag(Sense.In) || (sense.HasFlag(Sense.Charge) && quantity == Quantity.Current);
        bool isOut = sense.HasFlag(Sense.Out);
        _ = words;
        return new HeaderHint(quantity, unit, cell, pack, number, isOut, isIn && !isOut, false, bare && unit == Unit.None);
    }

    private static Sense SenseOf(string word)
    {
        if (Exact.TryGetValue(word, out Sense exact))
        {
            return exact;
        }

        if (word.Length < 4)
        {
            return Sense.None;
        }

        Sense sense = Sense.None;
        foreach ((string stem, Sense stemSense) in Stems)
        {
            if (word.Contains(stem, StringComparison.Ordinal))
            {
                sense |= stemSense;
            }
        }

        return sense;
    }

    // Takes a unit in brackets, after a slash, or after "in" out of the header.
    private static Unit TakeUnit(ref string text)
    {
        foreach ((char open, char close) in (ReadOnlySpan<(char, char)>)[('[', ']'), ('(', ')'), ('{', '}'), ('<', '>')])
        {
            int from = text.IndexOf(open, StringComparison.Ordinal);
            while (from >= 0)
            {
                int to = text.IndexOf(close, from + 1);
                if (to < 0)
                {
                    break;
                }

                Unit unit = UnitMarks.Parse(text[(from + 1)..to]);
                if (unit != Unit.None)
                {
                    text = string.Concat(text.AsSpan(0, from), " ", text.AsSpan(to + 1)).Trim();
                    return unit;
                }

                from = text.IndexOf(open, to + 1);
            }
        }

        int slash = text.LastIndexOf('/');
        if (slash > 0)
        {
            // "Time/s" has a unit; "mV/min" and "Fan [1/min]" are something for each of it.
            Unit unit = UnitMarks.Parse(text[(slash + 1)..]);
            if (unit != Unit.None && (UnitMarks.QuantityOf(unit) != Quantity.Elapsed || Words(text[..slash], out _).Exists(word => (SenseOf(word) & (Sense.Elapsed | Sense.Clock | Sense.Timestamp | Sense.Date)) != 0)))
            {
                text = text[..slash].Trim();
                return unit;
            }
        }

        int comma = Math.Max(text.LastIndexOf(','), text.LastIndexOf(" in ", StringComparison.OrdinalIgnoreCase));
        if (comma > 0)
        {
            int after = text[comma] == ',' ? comma + 1 : comma + 4;
            Unit unit = UnitMarks.Parse(text[after..]);
            if (unit != Unit.None)
            {
                text = text[..comma].Trim();
                return unit;
            }
        }

        Unit whole = UnitMarks.Parse(text);
        if (whole != Unit.None && (text.Length > 1 || text is "V" or "A" or "W" or "s"))
        {
            text = "";
            return whole;
        }

        return Unit.None;
    }

    private static Unit UnitOfLastWord(List<string> words, int? number)
    {
        string last = words[^1];
        Unit unit = UnitMarks.Parse(last);
        if (unit == Unit.None || (words.Count == 1 && (number is not null || last.Length == 1 || unit is Unit.Microvolt or Unit.Microampere)))
        {
            return Unit.None;
        }

        // "t min" is minutes; "cell min" is the lowest cell. "cell c" names a cell; "temp c" has a unit.
        Sense others = words.Take(words.Count - 1).Aggregate(Sense.None, (all, word) => all | SenseOf(word));
        Quantity quantity = UnitMarks.QuantityOf(unit);
        bool plausible = quantity switch
        {
            Quantity.Elapsed => (others & (Sense.Elapsed | Sense.Clock | Sense.Timestamp)) != 0,
            Quantity.Temperature => others.HasFlag(Sense.Temperature) || last is "°c" or "°f" or "ºc" or "ºf" or "℃" or "℉" or "celsius" or "fahrenheit",
            Quantity.Current => others.HasFlag(Sense.Current) || (others & (Sense.Cell | Sense.Voltage | Sense.Temperature | Sense.Energy)) == 0,
            _ => true,
        };
        if (!plausible)
        {
            return Unit.None;
        }

        words.RemoveAt(words.Count - 1);
        return unit;
    }

    // "Amp-hours" and "Wattstunden" are a charge and an energy, and no time.
    private static void JoinHours(List<string> words)
    {
        for (int i = words.Count - 1; i >= 0; i--)
        {
            string bare = words[i].StartsWith("milli", StringComparison.Ordinal) ? words[i][5..] : words[i];
            bool charge = bare.StartsWith("amp", StringComparison.Ordinal) || bare.StartsWith("ампер", StringComparison.Ordinal);
            if (!charge && !bare.StartsWith("watt", StringComparison.Ordinal) && !bare.StartsWith("ватт", StringComparison.Ordinal))
            {
                continue;
            }

            bool follows = i + 1 < words.Count && Hours.Any(hour => words[i + 1].StartsWith(hour, StringComparison.Ordinal));
            if (follows || (bare.Length > 6 && Hours.Any(hour => bare.LastIndexOf(hour, StringComparison.Ordinal) >= 3)))
            {
                words[i] = charge ? "ah" : "wh";
                words.RemoveRange(i + 1, follows ? 1 : 0);
            }
        }
    }

    private static readonly string[] Hours = ["hour", "stund", "heure", "hora", "uur", "uren", "timm", "timer", "час"];

    // Lower case without marks on letters, split at anything else, at digits and at inner capitals.
    private static List<string> Words(string text, out int? number)
    {
        number = null;
        var words = new List<string>();
        var word = new StringBuilder();
        bool lastLower = false;
        bool ofCell = false;
        for (int i = 0; i <= text.Length; i++)
        {
            char c = i < text.Length ? text[i] : ' ';
            if (char.IsAsciiDigit(c))
            {
                Flush();
                int start = i;
                while (i + 1 < text.Length && char.IsAsciiDigit(text[i + 1]))
                {
                    i++;
                }

                // Of several numbers, that of the cell: "Pack 1 cell 3".
                if (i - start < 3 && (number is null || (!ofCell && words is [.., var last] && SenseOf(last) == Sense.Cell)))
                {
                    ofCell = words is [.., var before] && SenseOf(before) == Sense.Cell;
                    number = int.Parse(text.AsSpan(start, i - start + 1), NumberStyles.None, CultureInfo.InvariantCulture);
                }

                lastLower = false;
                continue;
            }

            // "Pr¹d": a letter of Central Europe, of a text that is taken for one of Western Europe.
            c = c switch { '\u00B9' when word.Length > 0 => 'a', '\u00B3' when word.Length > 0 => 'l', '\u00BF' when word.Length > 0 => 'z', _ => c };
            if (!char.IsLetter(c) && c is not ('°' or '#' or '%' or '\u03A9' or '\u2126'))
            {
                Flush();
                lastLower = false;
                continue;
            }

            if (char.IsUpper(c) && lastLower && !StartsUnit(text, i, word))
            {
                Flush();
            }

            word.Append(Fold(c));
            lastLower = char.IsLower(c);
        }

        return words;

        void Flush()
        {
            if (word.Length > 0)
            {
                words.Add(word.ToString());
                word.Clear();
            }
        }
    }

    // "mAh", "mV", "mOhm": the inner capital belongs to the unit.
    private static bool StartsUnit(string text, int at, StringBuilder word)
    {
        _ = text;
        _ = at;
        return word.Length == 1 && word[0] is 'm' or 'µ' or 'k';
    }

    private static string Fold(char c)
    {
        char lower = char.ToLowerInvariant(c);
        return lower switch
        {
            'ä' or 'à' or 'á' or 'â' or 'ã' or 'å' or 'ą' or 'ā' => "a",
            'ç' or 'ć' or 'č' => "c",
            'ď' => "d",
            'é' or 'è' or 'ê' or 'ë' or 'ę' or 'ě' => "e",
            'í' or 'ì' or 'î' or 'ï' or 'ı' => "i",
            'ł' => "l",
            'ñ' or 'ń' or 'ň' => "n",
            'ö' or 'ó' or 'ò' or 'ô' or 'õ' or 'ø' or 'ő' => "o",
            'ř' => "r",
            'ś' or 'š' or 'ş' => "s",
            'ť' => "t",
            'ü' or 'ú' or 'ù' or 'û' or 'ů' or 'ű' => "u",
            'ý' => "y",
            'ż' or 'ź' or 'ž' => "z",
            'æ' => "ae",
            'ß' => "ss",
            'ğ' => "g",
            _ => lower.ToString(),
        };
    }
}

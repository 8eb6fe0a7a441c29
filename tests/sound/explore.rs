use crate::synthesis::rand_like::Random;
use crate::synthesis::*;
use throwbook::sound::{Recording, listen};
fn show(name: &str, bpm: f64, first: f64, r: &Recording) {
    let t = std::time::Instant::now();
    let l = listen(r);
    let ms = t.elapsed().as_millis();
    match &l.tempo {
        None => println!("{name:30} true {bpm:7.2} none   {ms}ms"),
        Some(t) => println!(
            "{name:30} true {bpm:7.2} est {:8.3} err {:+.3}% cert {:.2} first {:.4} (off {:+.4}) per {} alt {:?}  {ms}ms",
            t.bpm,
            (t.bpm / bpm - 1.0) * 100.0,
            t.confidence,
            t.strong_beats[0],
            t.strong_beats[0] - first,
            t.music_beats,
            t.alternatives.iter().map(|a| (a.relation.word(), a.bpm.round())).collect::<Vec<_>>()
        ),
    }
}
#[test]
fn explore() {
    let mut rng = Random(1);
    for bpm in
        [60.0, 72.5, 88.0, 95.0, 100.0, 110.3, 123.4, 128.0, 140.0, 151.7, 174.0, 190.0, 200.0]
    {
        show("clicks 30s", bpm, 0.85, &clicks(30.0, bpm, 0.85).recording());
        let mut m = clicks(30.0, bpm, 0.85);
        m.noise(0.1, &mut rng);
        show("clicks+noise 30s", bpm, 0.85, &m.recording());
        show("band 30s", bpm, 1.2, &band(30.0, bpm, 1.2, 0.0, &mut rng).recording());
        show("band swing 30s", bpm, 1.2, &band(30.0, bpm, 1.2, 1.0 / 6.0, &mut rng).recording());
    }
    show("clicks 4min", 123.4, 2.0, &clicks(240.0, 123.4, 2.0).recording());
    show("clicks 8s", 123.4, 0.3, &clicks(8.0, 123.4, 0.3).recording());
    show("clicks 5s", 120.0, 0.3, &clicks(5.0, 120.0, 0.3).recording());
    for s in 0..6 {
        let mut rng = Random(s + 10);
        let mut m = Music::silence(30.0);
        m.noise(0.3, &mut rng);
        show("noise", 0.0, 0.0, &m.recording());
        let mut m = Music::silence(30.0);
        let mut t = 0.0;
        while t < 30.0 {
            t += 0.1 + 0.8 * rng.part();
            m.click(t, 0.5, 1200.0);
        }
        show("random clicks", 0.0, 0.0, &m.recording());
        let mut m = Music::silence(10.0);
        let mut t = 0.0;
        while t < 10.0 {
            t += 0.1 + 0.8 * rng.part();
            m.click(t, 0.5, 1200.0);
        }
        show("random clicks 10s", 0.0, 0.0, &m.recording());
        let mut m = Music::silence(30.0);
        let mut t = 0.0;
        while t < 30.0 {
            t += 0.4 + 0.3 * rng.part();
            m.click(t, 0.5, 1200.0);
        }
        show("loose clicks", 0.0, 0.0, &m.recording());
        let mut m = Music::silence(30.0);
        let mut t = 0.5;
        while t < 30.0 {
            t += 0.5;
            m.click(t + 0.02 * rng.either_way(), 0.5, 1200.0);
        }
        show("human clicks ±20ms", 120.0, 1.0, &m.recording());
    }
    let mut m = Music::silence(30.0);
    let (mut t, mut b) = (0.5, 90.0);
    while t < 30.0 {
        m.click(t, 0.5, 1200.0);
        t += 60.0 / b;
        b += 1.0;
    }
    show("accelerando 90->", 0.0, 0.0, &m.recording());
    let mut m = Music::silence(30.0);
    m.tone(0.0, 0.5, 440.0, 100.0);
    show("sine", 0.0, 0.0, &m.recording());
    show("silence", 0.0, 0.0, &Music::silence(30.0).recording());
    show("empty", 0.0, 0.0, &Music::silence(0.0).recording());
}

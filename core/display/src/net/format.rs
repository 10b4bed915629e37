//! The model's file, read strictly: `learn/export.py` writes it.

use super::Layer;

/// Why a model's file is not used.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Unusable(&'static str);

impl std::fmt::Display for Unusable {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "The model of displays can't be used: {}.", self.0)
    }
}

impl std::error::Error for Unusable {}

/// Another number of networks or layers than the reading runs.
pub(crate) const OTHER: Unusable = Unusable("it has not the networks that the reading runs");
const CUT: Unusable = Unusable("it is cut short");

struct Bytes<'a>(&'a [u8]);

impl<'a> Bytes<'a> {
    fn take(&mut self, n: usize) -> Result<&'a [u8], Unusable> {
        let (head, rest) = self.0.split_at_checked(n).ok_or(CUT)?;
        self.0 = rest;
        Ok(head)
    }

    fn byte(&mut self) -> Result<usize, Unusable> {
        self.take(1)?.first().map(|b| usize::from(*b)).ok_or(CUT)
    }

    fn short(&mut self) -> Result<usize, Unusable> {
        Ok(self.byte()? + 256 * self.byte()?)
    }

    fn floats(&mut self, n: usize) -> Result<Vec<f32>, Unusable> {
        let (all, _) = self.take(4 * n)?.as_chunks::<4>();
        Ok(all.iter().map(|b| f32::from_le_bytes(*b)).collect())
    }
}

/// The networks of a file, each as its layers.
pub(crate) fn parse(file: &[u8]) -> Result<Vec<Vec<Layer>>, Unusable> {
    let mut bytes = Bytes(file);
    if bytes.take(5)? != b"SWDN\x01" {
        return Err(Unusable("it is of another form"));
    }
    let count = bytes.byte()?;
    let nets = (0..count)
        .map(|_| {
            let layers = bytes.short()?;
            (0..layers).map(|_| layer(&mut bytes)).collect()
        })
        .collect::<Result<Vec<Vec<Layer>>, Unusable>>()?;
    if !bytes.0.is_empty() {
        return Err(Unusable("something follows its end"));
    }
    Ok(nets)
}

fn layer(bytes: &mut Bytes<'_>) -> Result<Layer, Unusable> {
    let (come, go) = (bytes.short()?, bytes.short()?);
    let size = (bytes.byte()?, bytes.byte()?);
    let stride = (bytes.byte()?, bytes.byte()?);
    let dilation = bytes.byte()?;
    let (valid, rectified) = (bytes.byte()? != 0, bytes.byte()? != 0);
    let fits = |n: usize| (1..=16).contains(&n);
    let shape = [size.0, size.1, stride.0, stride.1, dilation];
    if !shape.into_iter().all(fits) || come == 0 || go == 0 || come.max(go) > 256 {
        return Err(Unusable("a layer has no shape that is known"));
    }
    let scales = bytes.floats(go)?;
    let bias = bytes.floats(go)?;
    let each = come * size.0 * size.1;
    let weights = scales
        .iter()
        .map(|scale| {
            let row = bytes.take(each)?.iter();
            Ok(row.map(|b| f32::from(b.cast_signed()) * scale).collect())
        })
        .collect::<Result<Vec<Vec<f32>>, Unusable>>()?;
    Ok(Layer::new(
        come, size, stride, dilation, valid, rectified, bias, &weights,
    ))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn small() -> Vec<u8> {
        // One network of one layer: one in, one out, 1 x 1, weight 127 * 0.5, bias 2.
        let mut file = b"SWDN\x01\x01\x01\x00\x01\x00\x01\x00\x01\x01\x01\x01\x01\x00\x00".to_vec();
        file.extend(0.5_f32.to_le_bytes());
        file.extend(2.0_f32.to_le_bytes());
        file.push(127);
        file
    }

    #[test]
    fn a_file_is_read_whole_or_not_at_all() {
        assert_eq!(parse(&small()).expect("whole").len(), 1);
        for n in 0..small().len() {
            assert!(parse(&small()[..n]).is_err(), "{n} bytes");
        }
        let mut longer = small();
        longer.push(0);
        assert!(parse(&longer).is_err());
        let mut other = small();
        other[4] = 2;
        assert!(parse(&other).is_err());
        let mut shapeless = small();
        shapeless[12] = 0;
        assert!(parse(&shapeless).is_err());
    }
}

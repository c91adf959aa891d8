package dev.lengthwise.report;

import static com.google.common.truth.Truth.assertThat;

import dev.lengthwise.cache.CacheGeometry;
import dev.lengthwise.cache.InstructionCache;
import dev.lengthwise.cache.PredecodePlace;
import dev.lengthwise.cache.RamFit;
import dev.lengthwise.circuit.OutputFile;
import dev.lengthwise.device.DeviceProfile;
import java.util.List;
import org.junit.jupiter.api.Test;

class RamFitTableTest {

  @Test
  void file_commonCase_hasARowForEachOption() {
    InstructionCache cache =
        InstructionCache.named("icache", CacheGeometry.builder(16384).ways(4).build())
            .predecode(PredecodePlace.onFill(1))
            .build();
    OutputFile file = new RamFitTable(List.of(RamFit.of(cache, DeviceProfile.sixInput()))).file();
    assertThat(file.path()).isEqualTo("ram_fit.csv");
    assertThat(file.text())
        .isEqualTo(
            """
            cache,device,part,chosen,layout,medium,shape,arrays,rows,width,primitives,banks,rows_wasted,spare_bits,bits_taken,bits_wasted
            icache,six_input,tags,true,each_way,block_ram,512 x 32+4,4,128,20,4,1,384,16,73728,63488
            icache,six_input,tags,false,side_by_side,block_ram,512 x 32+4,1,128,80,3,1,384,28,55296,45056
            icache,six_input,tags,false,each_way,distributed_ram,64 x 1,4,128,20,160,2,0,0,10240,0
            icache,six_input,data,true,each_way,block_ram,512 x 32+4,4,512,64,8,1,0,8,147456,16384
            icache,six_input,data,false,side_by_side,block_ram,512 x 32+4,1,512,256,8,1,0,32,147456,16384
            icache,six_input,data,false,stacked,block_ram,2048 x 8+1,1,2048,64,8,1,0,8,147456,16384
            icache,six_input,data,false,each_way,distributed_ram,64 x 1,4,512,64,2048,8,0,0,131072,0
            icache,six_input,valid,true,each_way,registers,,4,128,1,512,128,0,0,512,0
            icache,six_input,valid,false,each_way,distributed_ram,64 x 1,4,128,1,8,2,0,0,512,0
            icache,six_input,valid,false,beside_tags,block_ram,512 x 32+4,4,128,1,0,1,384,15,0,62976
            icache,six_input,replacement,true,whole,distributed_ram,64 x 1,1,128,6,12,2,0,0,768,0
            icache,six_input,replacement,false,whole,registers,,1,128,6,768,128,0,0,768,0
            icache,six_input,replacement,false,whole,block_ram,512 x 32+4,1,128,6,1,1,384,30,18432,17664
            icache,six_input,marks,true,beside_data,block_ram,512 x 32+4,4,512,8,0,1,0,0,0,0
            icache,six_input,marks,false,each_way,block_ram,512 x 32+4,4,512,8,4,1,0,28,73728,57344
            icache,six_input,marks,false,each_way,distributed_ram,64 x 1,4,512,8,256,8,0,0,16384,0
            """);
  }
}
